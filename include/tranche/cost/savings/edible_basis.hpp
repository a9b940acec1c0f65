// What of a portion is wanted, so that meat trimmed in different ways is compared pound for pound of the same thing.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/require.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// How much of each tissue counts as wanted, 0 to 1 of its mass. By default the lean: both muscles, and half of the tail,
/// which is taken as half lean, half fat (`densities_at_4_celsius`); no fat cover, no silverskin. Common practice, no
/// source. Whoever wants no second muscle says 0 for gluteus medius.
struct edible_basis {
    by_tissue<fraction> counts{{1.0, 1.0, 0.0, 0.5, 0.0}};

    friend bool operator==(const edible_basis&, const edible_basis&) = default;
};

/// Throws `invalid_input` for a number that is no share, or if no tissue counts at all. Each is a share of the tissue's
/// mass, 0 to 1.
inline void validate(const edible_basis& basis) {
    bool any = false;
    for (const tissue t : all_tissues) {
        detail::require_share(basis.counts[t], "edible_basis: " + std::string(name_of(t)));
        any |= basis.counts[t] > 0.0;
    }
    if (!any) throw invalid_input("edible_basis", "no tissue that counts", "at least one above zero");
}

namespace detail {

/// What each tissue is of some meat, by mass; the shares add up to one.
using tissue_shares = by_tissue<fraction>;

/// The shares of masses. Throws `invalid_input` for a negative mass, and where there is none at all.
[[nodiscard]] inline tissue_shares shares_of(const by_tissue<micrograms>& masses) {
    double all = 0.0;
    for (const tissue t : all_tissues) {
        if (masses[t] < micrograms{})
            throw invalid_input("mass of " + std::string(name_of(t)), to_mass(masses[t]), "zero or more");
        all += static_cast<double>(masses[t].count);
    }
    if (!(all > 0.0)) throw invalid_input("tissues", "no mass", "meat with a mass");
    tissue_shares shares;
    for (const tissue t : all_tissues) shares[t] = static_cast<double>(masses[t].count) / all;
    return shares;
}

} // namespace detail

/// How much of meat is wanted: Σ count × share over the tissues, 0 to 1. Throws `invalid_input` for a bad basis, and
/// for shares that are none or do not add up to one within 1e-6. Counts of the basis are shares of a tissue's mass, 0
/// to 1, and not all zero. Which tissues count is common practice, no source.
[[nodiscard]] inline fraction edible_share(const detail::tissue_shares& shares, const edible_basis& basis = {}) {
    validate(basis);
    double all = 0.0, wanted = 0.0;
    for (const tissue t : all_tissues) {
        detail::require_share(shares[t], "share of " + std::string(name_of(t)));
        all += shares[t];
        wanted += detail::unfused(basis.counts[t] * shares[t]);
    }
    if (!(std::abs(all - 1.0) <= 1e-6))
        throw invalid_input("shares of the tissues", detail::shown(all) + " in all", "shares that add up to 1");
    return std::min(wanted, 1.0);
}

/// Ready-cut meat as it lies in the case: how far it is trimmed, and how much of its lean is the second muscle.
struct ready_cut_look {
    trim_spec trim{};                         ///< by default untrimmed
    std::optional<fraction> gluteus_medius{}; ///< of the lean, by mass; none: as in the loin it is compared with

    friend bool operator==(const ready_cut_look&, const ready_cut_look&) = default;
};

/// The tissues of ready-cut meat that looks so, taken as cut where the plan cuts the portions named (`names`; all if empty)
/// and from a loin like this one: the trim model is applied to the cells of the profile that those slabs cover.
/// The profile is the one that the plan was made on. Throws `invalid_input` for a bad trim or share, for a profile of another
/// length, and if the plan has no such portion ("tissues: no mass"). O(cells). Lengths of the trim are zero or more,
/// the share of the second muscle 0 to 1; what comes back are shares by mass that add up to 1.
template <class = detail::when_called>
[[nodiscard]] detail::tissue_shares shares_of_ready_cut(const ready_cut_look& look, const profile& meat,
                                                        const cutting_plan& cuts,
                                                        const std::vector<std::string>& names = {}) {
    validate(look.trim, "ready cut: ");
    if (look.gluteus_medius) detail::require_share(*look.gluteus_medius, "ready cut: gluteus_medius");
    if (cuts.extent != meat.extent())
        throw invalid_input("profile", meat.extent(), "the length of the plan, " + sentence(cuts.extent));
    by_tissue<micrograms> kept;
    for (const slab& s : cuts.slabs) {
        if (s.kind != slab_kind::portions) continue;
        if (!names.empty() && std::find(names.begin(), names.end(), cuts.spec_of(s).name) == names.end()) continue;
        for (std::size_t cell = meat.nearest(s.start); cell < meat.nearest(s.start + s.thickness); ++cell)
            for (const tissue t : all_tissues) kept[t] += micrograms{detail::kept_in_cell(meat, cell, t, look.trim)};
    }
    detail::tissue_shares shares = detail::shares_of(kept);
    if (look.gluteus_medius) {
        const fraction lean = shares[tissue::eye] + shares[tissue::gluteus_medius];
        shares[tissue::gluteus_medius] = *look.gluteus_medius * lean;
        shares[tissue::eye] = lean - shares[tissue::gluteus_medius];
    }
    return shares;
}

} // namespace tranche
