// Samples, intervals, regression, analysis of variance and control charts.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/statistics/individuals_chart.hpp>
#include <tranche/statistics/linear_regression.hpp>
#include <tranche/statistics/one_way_anova.hpp>
#include <tranche/statistics/sample_summary.hpp>
