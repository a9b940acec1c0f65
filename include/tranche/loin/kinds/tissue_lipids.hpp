// How much lipid each tissue holds, for grind: what an analysis for fat finds, which is not the fat that a knife takes off.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/kinds/composition.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Lipid by mass in each tissue, 0 to 1. Lean holds some (5.67 % in raw beef strip, all grades) and separable fat is not
/// all lipid (70.89 % in raw beef, the rest is water and protein): both read in USDA SR28.
using tissue_lipids = by_tissue<fraction>;

/// From what the lean and the separable fat consist of, such as `beef_strip_lean` and `beef_separable_fat`. The tail is
/// taken as half lean, half fat by mass, and connective tissue as lean, as in `densities_of`: common practice, no source.
/// Where an analysis of the own trim is at hand, it is better than these. Throws `invalid_input` for a composition that
/// cannot be, naming the lean or the fat. Shares by mass, 0 to 1.
[[nodiscard]] inline tissue_lipids lipids_of(const composition& lean, const composition& fat) {
    validate(lean, "lean.");
    validate(fat, "fat.");
    tissue_lipids result;
    result[tissue::eye] = result[tissue::gluteus_medius] = result[tissue::connective] = lean.fat;
    result[tissue::fat_cover] = fat.fat;
    result[tissue::tail] = (lean.fat + fat.fat) / 2.0;
    return result;
}

} // namespace tranche
