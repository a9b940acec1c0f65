// What a plan leaves for the grinder, by tissue, and how fat that is.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <optional>
#include <string>
#include <utility>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/grind/grind_source.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// Loose meat and trim that go to one destination, in whole micrograms.
struct own_trim {
    by_tissue<micrograms> loose{}; ///< of facing, loose slabs and end, after their own trim
    by_tissue<micrograms> trim{};  ///< taken off any slab

    /// Both together, in micrograms, zero or more. Throws `invalid_input` only where 64 bits do not hold the sum.
    [[nodiscard]] micrograms total() const { return loose.sum() + trim.sum(); }

    friend bool operator==(const own_trim&, const own_trim&) = default;
};

/// Everything of a plan that goes to `where`. Over all destinations this is what `balance_of` has as loose and trim,
/// exactly. O(slabs). In whole micrograms. Throws `invalid_input` only where 64 bits do not hold a sum.
[[nodiscard]] inline own_trim own_trim_of(const cutting_plan& cuts, destination where = destination::grind) {
    own_trim result;
    for (const slab& s : cuts.slabs) {
        const bool loose = s.kind != slab_kind::portions && cuts.destination_of(s) == where;
        for (const tissue t : all_tissues) {
            if (loose) result.loose[t] += s.kept[t];
            if (cuts.rules.trim_goes_to[t] == where) result.trim[t] += s.trim[t];
        }
    }
    return result;
}

/// Lipid by mass: Σ mass × lipid / Σ mass over the tissues, with the lipid of each as `lipids_of` gives it; none if
/// there is no meat. Throws `invalid_input` for a lipid that is not a share, naming the tissue. 0 to 1. O(1). A mean by
/// mass: common practice, no source.
[[nodiscard]] inline std::optional<fraction> fat_of(const own_trim& own, const by_tissue<fraction>& lipids) {
    double fat = 0.0;
    for (const tissue t : all_tissues) {
        detail::require_share(lipids[t], "lipid of " + std::string(name_of(t)));
        fat += detail::unfused(static_cast<double>((own.loose[t] + own.trim[t]).count) * lipids[t]);
    }
    if (own.total().count == 0) return std::nullopt;
    return fat / static_cast<double>(own.total().count);
}

/// The same as a source of which any part may go into a blend, at the `value` that it would bring elsewhere; none if
/// there is no meat. Throws as `fat_of`, and for a value that is not finite or an empty name. Fat by mass, `value`
/// money by mass, of any sign.
template <currency C>
[[nodiscard]] std::optional<grind_source<C>> grind_source_of(const own_trim& own, const by_tissue<fraction>& lipids,
                                                             unit_price<C> value, std::string name = "own trim") {
    const std::optional<fraction> fat = fat_of(own, lipids);
    if (!fat) return std::nullopt;
    grind_source<C> source{std::move(name), *fat, value, {mass{}, to_mass(own.total())}};
    validate(source);
    return source;
}

} // namespace tranche
