// Fewer cells allowed for an option, and how its slabs change: by looking at each.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>

#include <tranche/optimise/request/cutting_problem.hpp>

#include "optimise/instances.hpp"

namespace cutting_problem_laws {

using namespace tranche;
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

} // namespace cutting_problem_laws
