// What there is to choose from on a front: all tilings of a small loin as numbers, and those of them that none beats.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <set>
#include <vector>

#include <tranche/optimise/plans/front.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace tranche_test {

/// Portions, micrograms in them, the thinnest slab in sixteenths of a micrometre, and the spread, negative: more of each
/// is better.
using front_choice = std::array<std::int64_t, 4>;

[[nodiscard]] inline std::int64_t sixteenths_of_a_micrometre(length l) { return std::llround(l.value() * 1.6e7); }

[[nodiscard]] inline bool covers(const front_choice& a, const front_choice& b, std::int64_t spread_bound = 0) {
    return a[0] >= b[0] && a[1] >= b[1] && a[2] >= b[2] && a[3] >= b[3] - spread_bound;
}

/// What a front is about, beside portions and the mass in them.
struct front_aims {
    bool thickness = false, evenness = false;

    [[nodiscard]] front_choice of(front_choice all) const {
        if (!thickness) all[2] = 0;
        if (!evenness) all[3] = 0;
        return all;
    }
};

/// The choices of all tilings that have portions, whose slabs go together and that meet the demands.
[[nodiscard]] inline std::set<front_choice> all_choices(const request& r, const small_request& all,
                                                        const std::vector<demand>& demands = {}) {
    std::set<front_choice> found;
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        std::int64_t count = 0, mass_in = 0, thinnest = std::numeric_limits<std::int64_t>::max();
        std::int64_t lightest = std::numeric_limits<std::int64_t>::max(), heaviest = 0;
        std::vector<std::int64_t> portions(r.specs.size());
        for (const auto& s : slabs) {
            if (!all.is_portion(s.option)) continue;
            const std::int64_t slab = all.masses(s.option, s.from, s.to).weight(), pieces = all.spec(s.option).pieces;
            const length kerf = s.to < all.cells() ? all.spec(s.option).kerf : length{};
            portions[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
            count += pieces;
            mass_in += slab;
            thinnest =
                std::min(thinnest, sixteenths_of_a_micrometre(r.meat.position(s.to) - r.meat.position(s.from) - kerf));
            lightest = std::min(lightest, slab / pieces);
            heaviest = std::max(heaviest, slab / pieces + (slab % pieces != 0 ? 1 : 0));
        }
        for (const demand& wanted : demands) {
            const std::int64_t n = portions[spec_of(wanted, r.specs)];
            if (n < wanted.at_least || n > wanted.at_most) return;
        }
        if (count > 0 && all.go_together(slabs)) found.insert({count, mass_in, thinnest, lightest - heaviest});
    });
    return found;
}

/// Those that no other one is as good as in everything that counts.
[[nodiscard]] inline std::set<front_choice> best_of(const std::set<front_choice>& all, const front_aims& aims) {
    std::set<front_choice> looked_at, best;
    for (const front_choice& mine : all) looked_at.insert(aims.of(mine));
    for (const front_choice& mine : looked_at)
        if (std::none_of(looked_at.begin(), looked_at.end(),
                         [&](const front_choice& other) { return other != mine && covers(other, mine); }))
            best.insert(mine);
    return best;
}

[[nodiscard]] inline std::set<front_choice> as_choices(const request& r, const std::vector<front_point>& front,
                                                       const front_aims& aims) {
    std::set<front_choice> found;
    for (const front_point& p : front)
        found.insert(aims.of({static_cast<std::int64_t>(p.portions), r.meat.total().count - p.waste.count,
                              sixteenths_of_a_micrometre(p.thinnest), -p.spread.count}));
    return found;
}

} // namespace tranche_test
