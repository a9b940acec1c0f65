// A loin corrected by slices that were weighed.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/calibration/slice_calibrated.hpp>
#include <tranche/loin/calibration/weighed_slices.hpp>
