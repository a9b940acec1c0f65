// What a study of loins can vary: sizes of the loin, the hand, what the cooler and the oven take, prices, guests.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace tranche {

/// A figure that a study draws anew for each loin. Weights in kilograms, lengths in metres, shares 0 to 1; a factor is a plain number
/// by which what was stated is multiplied.
enum class varied {
    weight,      ///< as bought, kg; width or fill give way (`gives_way`). Where it does not vary, sizes say the weight
    loin_length, ///< factor, as those of all sizes: `loin_factors`
    width,       ///< factor
    depth,       ///< factor
    fat_cover,   ///< factor
    tail,        ///< factor
    fill,        ///< factor
    gluteus_medius_onset, ///< factor
    gluteus_medius_share, ///< factor
    knife_bias,           ///< m, in place of the hand's
    knife_spread,         ///< m, in place of the hand's
    fat_left,             ///< m more than the trims aim at, where they limit the cover
    purge,                ///< share of the weight as bought
    cooking_yield,        ///< share of the raw weight of portions
    price,                ///< factor on the price paid
    portion_prices,       ///< factor on what portions sell for
    by_product_values,    ///< factor on what loose meat and trim are worth
    ready_price,          ///< factor on the price of ready-cut meat
    covers                ///< guests tonight; read to the nearest whole number
};
inline constexpr std::array<varied, 19> all_varied{varied::weight,
                                                   varied::loin_length,
                                                   varied::width,
                                                   varied::depth,
                                                   varied::fat_cover,
                                                   varied::tail,
                                                   varied::fill,
                                                   varied::gluteus_medius_onset,
                                                   varied::gluteus_medius_share,
                                                   varied::knife_bias,
                                                   varied::knife_spread,
                                                   varied::fat_left,
                                                   varied::purge,
                                                   varied::cooking_yield,
                                                   varied::price,
                                                   varied::portion_prices,
                                                   varied::by_product_values,
                                                   varied::ready_price,
                                                   varied::covers};

namespace detail {

inline constexpr std::array<std::string_view, all_varied.size()> names_of_varied{"weight",
                                                                                 "length",
                                                                                 "width",
                                                                                 "depth",
                                                                                 "fat cover",
                                                                                 "tail",
                                                                                 "fill",
                                                                                 "gluteus medius onset",
                                                                                 "gluteus medius share",
                                                                                 "knife bias",
                                                                                 "knife spread",
                                                                                 "fat left",
                                                                                 "purge",
                                                                                 "cooking yield",
                                                                                 "price",
                                                                                 "portion prices",
                                                                                 "by-product values",
                                                                                 "ready-cut price",
                                                                                 "covers"};

} // namespace detail

/// "weight", "fat cover", "knife spread" ... Any figure; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(varied what) {
    return detail::names_of_varied[static_cast<std::size_t>(what)];
}

} // namespace tranche
