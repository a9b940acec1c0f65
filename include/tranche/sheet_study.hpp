// Cut sheets with a study: chances beside portions and weights. Beside sheets it takes in what studies need.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/sheet.hpp>
#include <tranche/sheet/study/study_loins.hpp>
