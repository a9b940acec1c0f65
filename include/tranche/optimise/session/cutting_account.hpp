// What the slabs of a loin came to, once it is cut: where its weight went, and how many portions keep their limits.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/session/actual_slab.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

/// What all slabs came to: whole = slabs + rest + unaccounted, to the microgram.
struct cutting_account {
    micrograms whole{}; ///< of the loin on the board, by the profile
    micrograms slabs{}; ///< of all slabs, as weighed
    micrograms rest{};  ///< as weighed at the end, or all that the slabs leave
    micrograms
        unaccounted{}; ///< kerf, drip, and what scale and profile disagree about; zero if the rest was not weighed
    std::size_t portions_within = 0, portions_too_heavy = 0, portions_too_light = 0;

    friend bool operator==(const cutting_account&, const cutting_account&) = default;
};

namespace detail {

/// Of slabs that were cut from a loin of weight `whole`, and `rest` that was left. O(slabs).
template <class = when_called>
[[nodiscard]] cutting_account account_of(std::span<const actual_slab> slabs, const std::vector<cut_spec>& specs,
                                         micrograms whole, micrograms rest) {
    cutting_account a{.whole = whole, .rest = rest};
    for (const actual_slab& s : slabs) {
        a.slabs += s.weight;
        if (s.kind != slab_kind::portions) continue;
        (s.within()       ? a.portions_within
         : s.off > mass{} ? a.portions_too_heavy
                          : a.portions_too_light) += static_cast<std::size_t>(specs[s.option].pieces);
    }
    a.unaccounted = a.whole - a.slabs - a.rest;
    return a;
}

} // namespace detail

} // namespace tranche
