// Loin models and the profile: from measurements to mass along the loin. Scans and weighed slices have doors of their own.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/cut_tilt.hpp>
#include <tranche/loin/face.hpp>
#include <tranche/loin/kinds/composition.hpp>
#include <tranche/loin/kinds/known_compositions.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/loin/kinds/tissue_lipids.hpp>
#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/loin_side.hpp>
#include <tranche/loin/models/doubts.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/slanted.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/loin/models/traced_loin.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/loin/on_finer_grid.hpp>
#include <tranche/loin/outline/outline.hpp>
#include <tranche/loin/outline/read_traced_faces.hpp>
#include <tranche/loin/painted_face.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tape/cap_spread.hpp>
#include <tranche/loin/tape/superellipse.hpp>
#include <tranche/loin/tape/taped_face.hpp>
#include <tranche/loin/tape/taped_outlines.hpp>
#include <tranche/loin/tissue.hpp>
