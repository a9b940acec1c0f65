// Charts of what studies found; <tranche/charts.hpp> alone draws plain numbers.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/report/charts/study_charts.hpp>
