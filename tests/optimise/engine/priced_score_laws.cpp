// What the largest term of a score is, by looking at every slab that can be.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

#include <tranche/optimise/engine/detail/demands/priced_score.hpp>

#include "optimise/instances.hpp"

namespace priced_score_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// One slab is worth more than all others, whichever that is.
struct one_large_slab {
    using score_type = std::int64_t;
    std::size_t option, first, past;
    [[nodiscard]] std::int64_t slab(std::size_t o, std::size_t from, std::size_t to) const {
        return o == option && from == first && to == past ? -1'000'000 : static_cast<std::int64_t>(to - from);
    }
};

/// One end of a slab is worth more than all others, whichever that is.
struct one_large_end {
    using score_type = std::int64_t;
    std::size_t option, at;
    bool front; ///< an opening, not a closing

    [[nodiscard]] std::int64_t opening(std::size_t o, std::size_t from) const {
        return front && o == option && from == at ? -1'000'000 : -static_cast<std::int64_t>(from);
    }
    [[nodiscard]] std::int64_t closing(std::size_t o, std::size_t to) const {
        return !front && o == option && to == at ? 1'000'000 : static_cast<std::int64_t>(to);
    }
};

} // namespace

TEST_CASE("the largest term of a separable score is found wherever a slab may begin or end, and nowhere else") {
    std::size_t ends = 0, beyond = 0;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 325'000);
        const request r = random_request(d, 4, 14);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t at = 0; at <= problem.cells(); ++at)
                for (const bool front : {true, false}) {
                    // A slab begins in front of the sirloin face, and ends behind the facing.
                    const bool counts = front ? problem.start() <= at && at < problem.cells()
                                              : problem.start() < at && at <= problem.cells();
                    ++(counts ? ends : beyond);
                    CAPTURE(seed, o, at, front);
                    CHECK((detail::largest_term(problem, one_large_end{o, at, front}, 0) == 1e6) == counts);
                }
    }
    CHECK(ends > 1000);
    CHECK(beyond > 100);
}

TEST_CASE("the largest term is found wherever it is, and not where no slab can be") {
    std::size_t allowed = 0, forbidden = 0;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 320'000);
        request r = random_request(d, 4, 14);
        if (d.once_in(2)) add_limits(d, r);
        for (cut_spec& spec : r.specs)
            if (spec.thickness_step > length{}) spec.kerf = {};
        const cutting_problem problem(r.meat, r.specs, r.rules);
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t from = 0; from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                    const bool can_be = problem.allows(o, from, to);
                    ++(can_be ? allowed : forbidden);
                    const double found = detail::largest_term(problem, one_large_slab{o, from, to}, 0);
                    if ((found == 1e6) != can_be) {
                        CAPTURE(seed, o, from, to);
                        CHECK((found == 1e6) == can_be);
                    }
                }
    }
    CHECK(allowed > 1000);
    CHECK(forbidden > 1000);
}

} // namespace priced_score_laws
