// Compositions of raw lean and separable fat from a public table, by the number of the item.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/kinds/composition.hpp>

namespace tranche {

// US Department of Agriculture, National Nutrient Database for Standard Reference, Release 28 (SR28, 2015/16, public
// domain), grams in 100 g of the raw item; NDB is the number of the item. Read in the source, except where it says not.

/// Beef, top loin (strip) steak, separable lean, all grades.
inline constexpr composition beef_strip_lean{.water = 0.7063, .protein = 0.2307, .fat = 0.0567, .ash = 0.0102};
/// The same, choice: NDB 23370.
inline constexpr composition beef_strip_lean_choice{.water = 0.6994, .protein = 0.2293, .fat = 0.0634, .ash = 0.0101};
/// The same, select: NDB 23371.
inline constexpr composition beef_strip_lean_select{.water = 0.7168, .protein = 0.2330, .fat = 0.0466, .ash = 0.0104};
/// Beef, top loin steak, lean and fat together, trimmed to 0 in, choice: NDB 23340.
inline constexpr composition beef_strip_trimmed_choice{
    .water = 0.6782, .protein = 0.2219, .fat = 0.0916, .ash = 0.0098};
/// Beef, top loin steak, lean and fat together, trimmed to 1/8 in, prime: NDB 13915.
inline constexpr composition beef_strip_trimmed_prime{.water = 0.5842, .protein = 0.1900, .fat = 0.2217, .ash = 0.0077};
/// Beef, separable fat: NDB 13019.
inline constexpr composition beef_separable_fat{.water = 0.2021, .protein = 0.0821, .fat = 0.7089, .ash = 0.0028};

/// Pork, top loin, separable lean: NDB 10066.
inline constexpr composition pork_top_loin_lean{.water = 0.7293, .protein = 0.2241, .fat = 0.0342, .ash = 0.0101};
/// Pork, separable fat: NDB 10006. The ash is not read but computed back from a density made from the item.
inline constexpr composition pork_separable_fat{.water = 0.2476, .protein = 0.0925, .fat = 0.6570, .ash = 0.0051};

/// Lamb, loin, separable lean.
inline constexpr composition lamb_loin_lean{.water = 0.7255, .protein = 0.2088, .fat = 0.0594, .ash = 0.0106};
/// Lamb, separable fat. The ash is not read in the source but from memory; without it the fat would be 2.1 kg/m³ lighter
/// (computed).
inline constexpr composition lamb_separable_fat{.water = 0.2254, .protein = 0.0665, .fat = 0.7061, .ash = 0.0036};

/// Tuna, yellowfin: NDB 15127.
inline constexpr composition yellowfin_tuna{.water = 0.7403, .protein = 0.2440, .fat = 0.0049, .ash = 0.0164};
/// Tuna, bluefin: NDB 15117. The shares add up to 0.975 only.
inline constexpr composition bluefin_tuna{.water = 0.6809, .protein = 0.2333, .fat = 0.0490, .ash = 0.0118};

} // namespace tranche
