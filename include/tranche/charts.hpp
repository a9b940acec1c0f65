// Charts of studies and of anybody's sweep, as SVG in the look of the reports' pictures.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/charts/convergence_chart.hpp>
#include <tranche/report/charts/distribution_chart.hpp>
#include <tranche/report/charts/heat_map.hpp>
#include <tranche/report/charts/interval_chart.hpp>
#include <tranche/report/charts/line_chart.hpp>
#include <tranche/report/charts/paired_chart.hpp>
#include <tranche/report/charts/tornado.hpp>
