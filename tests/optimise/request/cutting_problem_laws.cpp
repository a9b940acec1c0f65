// Fewer cells allowed for an option, and how its slabs change: by looking at each. Problems that share tables.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>

#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace cutting_problem_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("a narrowed option has the slabs of its cells, and no others") {
    std::size_t kept = 0, whole_loins = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 310'000);
        request r = random_request(d, 3, 14);
        r.rules.facing = {};
        if (d.once_in(2)) add_limits(d, r);
        for (cut_spec& spec : r.specs) {
            if (spec.thickness_step > length{}) spec.kerf = {};
            if (d.once_in(2)) spec.thickness.max = spec.thickness.min + r.meat.extent();
        }
        const cutting_problem problem(r.meat, r.specs, r.rules);
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o)
            for (std::size_t least = 1; least <= problem.cells() + 2; ++least)
                for (std::size_t most = least; most <= problem.cells() + 2; ++most) {
                    cutting_problem narrowed = problem;
                    narrowed.narrow_cells(o, least, most);
                    bool any = false;
                    for (std::size_t from = 0; from < problem.cells(); ++from)
                        for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                            const std::size_t cells = problem.cells_of(o, from, to);
                            const bool stays = problem.allows(o, from, to) && least <= cells && cells <= most;
                            if (narrowed.allows(o, from, to) != stays) {
                                CAPTURE(seed, o, least, most, from, to);
                                CHECK(narrowed.allows(o, from, to) == stays);
                            }
                            any = any || stays;
                            kept += stays ? 1 : 0;
                            whole_loins += stays && from == 0 && to == problem.cells() ? 1 : 0;
                        }
                    if (any) CHECK(narrowed.may_come(o));
                }
    }
    CHECK(kept > 1000);
    CHECK(whole_loins > 20);
}

TEST_CASE("a problem made like another one is the same as one made alone, and shares the tables of equal trims") {
    std::size_t shared = 0, own = 0;
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 370'000);
        request asked = random_request(d, 3, 30);
        if (d.once_in(2)) add_limits(d, asked);
        if (!(asked.rules.facing < asked.meat.extent())) continue;
        request other = asked;
        for (cut_spec& spec : other.specs) {
            if (d.once_in(2)) spec.trim = random_trim(d);
            if (d.once_in(3)) spec.kerf = {};
            spec.portion.max = spec.portion.min + d.between(0.0, 0.5) * to_mass(asked.meat.total()) + 1_g;
            spec.thickness_step = {};
        }
        std::reverse(other.specs.begin(), other.specs.end());
        const cutting_problem alone(asked.meat, other.specs, other.rules);
        const auto like = [&] { // of a problem that is gone
            const cutting_problem first(asked.meat, asked.specs, asked.rules), second(first, other.specs, asked.rules);
            return cutting_problem(second, other.specs, other.rules);
        }();
        const cutting_problem first(asked.meat, asked.specs, asked.rules), second(first, other.specs, other.rules);
        CAPTURE(seed);
        for (const cutting_problem* problem : {&like, &second})
            for (std::size_t o = 0; o < alone.option_count(); ++o) {
                CHECK(std::ranges::equal(problem->front(o), alone.front(o)));
                CHECK(std::ranges::equal(problem->back(o), alone.back(o)));
                bool same = problem->trim(o) == alone.trim(o);
                for (std::size_t to = 0; to <= alone.cells(); ++to)
                    same = same && problem->graph().lanes[o].to(to) == alone.graph().lanes[o].to(to);
                CHECK(same);
            }
        for (std::size_t o = second.loose_count(); o < second.option_count(); ++o)
            for (std::size_t k = first.loose_count(); k < first.option_count(); ++k) {
                const bool same_trim = first.trim(k) == second.trim(o) && first.trim(k) != trim_spec{};
                const bool one_column = first.front(k).data() == second.front(o).data();
                if (first.trim(k) != trim_spec{} || second.trim(o) != trim_spec{}) CHECK(one_column == same_trim);
                ++(same_trim ? shared : own);
            }
    }
    CHECK(shared > 50);
    CHECK(own > 50);
}

} // namespace cutting_problem_laws
