// How fat a grind may be: what the maker wants, and what the law allows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <string>

#include <tranche/units/require.hpp>

namespace tranche {

/// A closed range of fat content, lipid by mass, each end 0 to 1.
struct fat_range {
    fraction min = 0.0, max = 1.0;

    friend bool operator==(const fat_range&, const fat_range&) = default;
};

/// From 0 to `most`, a share of lipid by mass, 0 to 1, which `validate` of the range checks. Throws nothing.
[[nodiscard]] constexpr fat_range fat_at_most(fraction most) { return {0.0, most}; }
/// From `target` to `target`, a share of lipid by mass, 0 to 1, which `validate` checks. Throws nothing.
[[nodiscard]] constexpr fat_range fat_of_exactly(fraction target) { return {target, target}; }

/// Throws `invalid_input` for ends that are not shares or the wrong way round. Lipid by mass, 0 to 1.
inline void validate(const fat_range& fat) {
    detail::require_share(fat.min, "fat.min");
    detail::require_share(fat.max, "fat.max");
    detail::require_range(quantity_range<fraction>{fat.min, fat.max}, "fat");
}

/// The most fat that the law allows in what the grind is sold as, and the rule that says so. Laws differ between places,
/// species and names of products, so there is no default: whoever calls names the rule, and a blend never goes over it.
struct legal_fat_limit {
    fraction most = 1.0; ///< 0 to 1
    std::string law{};   ///< not empty: "9 CFR 319.15(a)"

    friend bool operator==(const legal_fat_limit&, const legal_fat_limit&) = default;
};

/// Ground beef and hamburger in the United States: at most 30 % fat (9 CFR 319.15(a), as quoted). By mass. Throws
/// nothing.
[[nodiscard]] inline legal_fat_limit us_ground_beef_limit() { return {0.30, "9 CFR 319.15(a)"}; }

/// For meat that is not sold as ground meat under a limit; the caller says so by name. A share of 1: no limit. Throws
/// nothing.
[[nodiscard]] inline legal_fat_limit no_legal_fat_limit() { return {1.0, "no legal limit, by the caller's word"}; }

/// Throws `invalid_input` for a limit that is not a share, or without the name of its law. Lipid by mass, 0 to 1.
inline void validate(const legal_fat_limit& limit) {
    detail::require_share(limit.most, "limit.most");
    if (limit.law.empty()) throw invalid_input("limit.law", "\"\"", "the name of the law or rule");
}

} // namespace tranche
