// Labels, lots and ready-cut packs, and their tables.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/packs/lot_compliance.hpp>
#include <tranche/packs/net_weight.hpp>
#include <tranche/packs/pack_appraisal.hpp>
#include <tranche/packs/pack_label.hpp>
#include <tranche/packs/pack_tolerances.hpp>
#include <tranche/packs/scale_tolerance.hpp>
#include <tranche/packs/steak_pack.hpp>
#include <tranche/report/tables/label_tables.hpp>
#include <tranche/report/tables/pack_tables.hpp>
