// Typical loins of four kinds: every figure with its source, or the words "common practice, no source".
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/kinds/loin_proportions.hpp>

namespace tranche {

namespace detail {
inline constexpr std::string_view no_source = "common practice, no source";
} // namespace detail

/// Beef: a boneless strip loin, lip on.
inline constexpr loin_proportions beef_strip_loin{
    .name = "beef strip loin",
    .weight = {5.4 * kilogram, 0.135,
               "edge of the box classes 4.5-5.4 and 5.4-6.3 kg of a Canadian merchandising sheet (read in the source); "
               "spread: common practice, no source"},
    .length = {41.5 * centimetre, 0.055, detail::no_source},
    .width = {22.5 * centimetre, 22.0 * centimetre, 21.5 * centimetre, 0.08, detail::no_source},
    .depth =
        {8.7 * centimetre, 8.2 * centimetre, 7.7 * centimetre, 0.08,
         "the eye at the rib face then has about the 91.6 cm2 of the mean of 4.4 million carcasses, Mayer et al. "
         "2025, Transl. Anim. Sci. 9:txaf097 (read in the source); depth is largest at the rib end, Acheson et al. "
         "2018 (read in the source); the figures themselves: common practice, no source"},
    .fat_cover = {1.2 * centimetre, 1.2 * centimetre, 1.2 * centimetre, 0.40,
                  "11.9 mm on loins as bought, at most 16.2: Neel et al. 1993, J. Anim. Sci. 71:1805 (read in the "
                  "abstract); spread: common practice, no source"},
    .tail = {7.0 * centimetre, 6.0 * centimetre, 5.0 * centimetre, 0.20,
             "just below the limits of 3.0 in at the rib and 2.0 in at the sirloin end, USDA IMPS Series 100 (2014), "
             "item 180 (quoted); spread: common practice, no source"},
    .gluteus_medius_onset = {0.79, 0.04,
                             "of least relative error in the shares of vein steaks in Dashdorj et al. 2016, J. Anim. "
                             "Sci. Technol. 58:20 (computed); spread: common practice, no source"},
    .gluteus_medius_share_at_end = {0.30, 0.30, detail::no_source},
    .local_mass_per_length = {1.0, 0.08,
                              "computed: steaks vary by 13.1 % (USDA SR28, item 23388, read in the source), which is "
                              "9.0 % from the weight of the loin, 5.5 % from its length, and the rest"}};

/// Pork: a boneless loin without the fat of the back. Where a source is named, figures are means over about 1,238 loins.
inline constexpr loin_proportions boneless_pork_loin{
    .name = "boneless pork loin",
    .weight = {4.1 * kilogram, 0.15, "Wilson et al. 2016, J. Anim. Sci. 94:4903 (read in the source)"},
    .length_exponent = {0.235, 0.0,
                        "computed from Wilson et al. 2016: correlation with weight 0.57 x spread of length 6.16 % / "
                        "spread of weight 14.95 %"},
    .length = {51.5 * centimetre, 0.051,
               "length as it lies, Wilson et al. 2016 (read in the source); spread at one weight computed: 6.16 % x "
               "sqrt(1 - 0.57^2)"},
    .width =
        {11.7 * centimetre, 17.2 * centimetre, 11.7 * centimetre, 0.10,
         "follows from weight, length and depth (computed); ends taper as below; spread: common practice, no source"},
    .depth = {4.9 * centimetre, 7.3 * centimetre, 4.9 * centimetre, 0.10,
              "loin depth 67 mm, Wilson et al. 2016 (read in the source), and the cover; ends 0.67 of the middle both "
              "ways, computed: end pieces of 10.5 % of the weight on 16 % of the length; spread: common practice, no "
              "source"},
    .fat_cover = {0.4 * centimetre, 0.6 * centimetre, 0.4 * centimetre, 0.25,
                  "trimmed, not the 22 mm of the carcass: common practice, no source"},
    .tail = {1.3 * centimetre, 2.0 * centimetre, 1.3 * centimetre, 0.30, detail::no_source},
    .gluteus_medius_onset = {0.85, 0.04, detail::no_source},
    .gluteus_medius_share_at_end = {0.35, 0.30, detail::no_source},
    .local_mass_per_length = {1.0, 0.08, "as for beef: common practice, no source"}};

/// Lamb: a boneless loin of one side.
inline constexpr loin_proportions lamb_loin{
    .name = "lamb loin",
    .weight = {0.72 * kilogram, 0.23,
               "common practice, no source; spread that of 9,530 carcasses, US lamb, PMC7754226 (read in the source)"},
    .length = {27.0 * centimetre, 0.07, detail::no_source},
    .width = {9.5 * centimetre, 9.5 * centimetre, 9.5 * centimetre, 0.10, detail::no_source},
    .depth = {4.0 * centimetre, 4.0 * centimetre, 4.0 * centimetre, 0.10,
              "the eye then has about the 16.9 cm2 of the mean of 9,530 carcasses, US lamb, PMC7754226 (read in the "
              "source); the figures themselves: common practice, no source"},
    .fat_cover = {0.8 * centimetre, 0.8 * centimetre, 0.8 * centimetre, 0.46,
                  "8.17 mm, standard deviation 3.79, over the 12th rib, PMC7754226 (read in the source)"},
    .tail = {3.0 * centimetre, 3.0 * centimetre, 3.0 * centimetre, 0.30, detail::no_source},
    .gluteus_medius_onset = {0.85, 0.05, detail::no_source},
    .gluteus_medius_share_at_end = {0.30, 0.30, detail::no_source},
    .local_mass_per_length = {1.0, 0.10, detail::no_source}};

/// Tuna: a skinless quarter of a fish of some 40 kg. Its axis runs from the head end, which stands for the rib face, to
/// the tail end.
inline constexpr loin_proportions tuna_loin{
    .name = "tuna loin",
    .weight = {4.0 * kilogram, 0.50, detail::no_source},
    .length = {55.0 * centimetre, 0.10, detail::no_source},
    .width = {13.3 * centimetre, 13.3 * centimetre, 6.1 * centimetre, 0.12, detail::no_source},
    .depth = {7.5 * centimetre, 8.0 * centimetre, 3.5 * centimetre, 0.12, detail::no_source},
    .fat_cover = {{}, {}, {}, 0.0, "none: skinless"},
    .tail = {{}, {}, {}, 0.0, "none"},
    .fill = {0.785, 0.05, "an ellipse (computed: pi / 4); spread: common practice, no source"},
    .local_mass_per_length = {1.0, 0.10, detail::no_source}};

} // namespace tranche
