// What is left of meat after cooking, from published tables, each with its source and how it is known.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <string_view>

#include <tranche/units/quantity.hpp>

namespace tranche {

namespace detail {

/// How a figure is known: read in its source, computed here from figures that were, or recalled without having been
/// read.
enum class known_by { reading, computing, memory };

} // namespace detail

/// "read in the source", "computed from the source" or "from memory". Throws nothing.
[[nodiscard]] constexpr std::string_view name_of(detail::known_by how) {
    switch (how) {
    case detail::known_by::reading: return "read in the source";
    case detail::known_by::computing: return "computed from the source";
    case detail::known_by::memory: break;
    }
    return "from memory";
}

/// Cooked weight / raw weight of one cut and method; `low` and `high` are equal where the source has one figure. The
/// spread between animals, cooks and degrees of doneness is larger than most of these ranges: weigh your own.
struct cooking_yield {
    std::string_view cut, method;
    fraction low, high;
    std::string_view source;
    detail::known_by known;

    friend bool operator==(const cooking_yield&, const cooking_yield&) = default;
};

namespace detail {
// US Department of Agriculture, National Nutrient Database for Standard Reference, Release 28: mean weights in grams of
// cooked and raw steaks.
inline constexpr std::string_view sr28 = "USDA SR28, mean weights cooked and raw";
inline constexpr std::string_view roseland = "Roseland et al. 2015, J. Food Compos. Anal. 43:131";
inline constexpr std::string_view korean_loins =
    "PMC4647104, table 4; Food Sci. Anim. Resour. 38:606, table 3, and 40:286, table 2";
inline constexpr std::string_view pork_steaks = "Food Sci. Anim. Resour. 39:756, table 6";
inline constexpr std::string_view recalled = "losses of 13-16, 19-23 and 25-30 %, no source read";
} // namespace detail

/// Rare at 60 °C is below the 145 °F (62.8 °C) with three minutes' rest that is the US federal consumer minimum for
/// steaks: the figures say what shrinks, not what is safe.
inline constexpr std::array known_cooking_yields{
    cooking_yield{"strip steak, lip on, 1/8 in fat", "grilled", 235.0 / 302.0, 235.0 / 302.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"strip steak, lip on, 1/8 in fat, choice", "grilled", 236.0 / 301.0, 236.0 / 301.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"strip steak, lip on, 1/8 in fat, select", "grilled", 234.0 / 304.0, 234.0 / 304.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"strip steak, lip off, 0 in fat, choice", "grilled", 164.0 / 203.0, 164.0 / 203.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"strip steak, lip off, 0 in fat, select", "grilled", 150.0 / 186.0, 150.0 / 186.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"strip steak, prime, without refuse", "broiled", 167.0 / 242.0, 167.0 / 242.0, detail::sr28,
                  detail::known_by::computing},
    cooking_yield{"ribeye", "roasted", 0.76, 0.76, detail::roseland, detail::known_by::reading},
    cooking_yield{"ribeye", "grilled", 0.83, 0.83, detail::roseland, detail::known_by::reading},
    cooking_yield{"chuck eye", "roasted", 0.80, 0.80, detail::roseland, detail::known_by::reading},
    cooking_yield{"chuck eye", "grilled", 0.84, 0.84, detail::roseland, detail::known_by::reading},
    cooking_yield{"beef loin", "several studies", 1.0 - 0.345, 1.0 - 0.255, detail::korean_loins,
                  detail::known_by::reading},
    cooking_yield{"beef longissimus", "several studies", 1.0 - 0.237, 1.0 - 0.196, detail::korean_loins,
                  detail::known_by::reading},
    cooking_yield{"beef loin, fresh", "several studies", 1.0 - 0.2197, 1.0 - 0.2197, detail::korean_loins,
                  detail::known_by::reading},
    cooking_yield{"beef loin, dry-aged", "several studies", 1.0 - 0.175, 1.0 - 0.097, detail::korean_loins,
                  detail::known_by::reading},
    cooking_yield{"beef sirloin", "three methods", 1.0 - 0.2766, 1.0 - 0.1989, "Food Sci. Anim. Resour. 39:54, table 2",
                  detail::known_by::reading},
    cooking_yield{"pork steak, 1.5 to 2.0 cm", "medium-rare", 1.0 - 0.1509, 1.0 - 0.1313, detail::pork_steaks,
                  detail::known_by::reading},
    cooking_yield{"pork steak, 1.5 to 2.0 cm", "medium", 1.0 - 0.2320, 1.0 - 0.2260, detail::pork_steaks,
                  detail::known_by::reading},
    cooking_yield{"pork steak, 1.5 to 2.0 cm", "well done", 1.0 - 0.3604, 1.0 - 0.3518, detail::pork_steaks,
                  detail::known_by::reading},
    cooking_yield{"pork loin chop", "cooked, sd 2.83 %", 0.7726, 0.7726, "PMC3268573", detail::known_by::reading},
    cooking_yield{"strip steak", "rare, 60 °C", 0.84, 0.87, detail::recalled, detail::known_by::memory},
    cooking_yield{"strip steak", "medium, 71 °C", 0.77, 0.81, detail::recalled, detail::known_by::memory},
    cooking_yield{"strip steak", "well done, 77 °C", 0.70, 0.75, detail::recalled, detail::known_by::memory},
};

} // namespace tranche
