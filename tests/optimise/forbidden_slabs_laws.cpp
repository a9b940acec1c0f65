// What an objective forbids by minus infinity, on every way to plan: as a penalty that comes before all else, and no slab that
// cannot be is ever asked about.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <vector>

#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/want/lexicographic.hpp>

#include "optimise/instances.hpp"

namespace forbidden_slabs_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Whether a slab is out, in a way that its two ends say: as invented as the loins.
struct rule_of_ends {
    std::uint64_t seed, once_in;
    [[nodiscard]] bool at(std::size_t option, std::size_t position, bool start) const {
        return dice(seed + 977 * option + 31 * position + (start ? 7 : 0)).once_in(once_in);
    }
};

/// Whole numbers, so that sums of doubles are exact and ties are ties.
double worth(const cutting_problem& problem, std::size_t option, std::size_t position, bool start) {
    if (!problem.is_portion(option)) return 0.0;
    return start ? -static_cast<double>(problem.front(option)[position] / 1'000'000)
                 : static_cast<double>(problem.back(option)[position] / 1'000'000);
}

/// The worth, and minus infinity for what is out.
struct forbidding {
    using score_type = double;
    const cutting_problem* problem;
    rule_of_ends out;
    [[nodiscard]] double opening(std::size_t o, std::size_t from) const { return term(o, from, true); }
    [[nodiscard]] double closing(std::size_t o, std::size_t to) const { return term(o, to, false); }

private:
    [[nodiscard]] double term(std::size_t o, std::size_t position, bool start) const {
        return out.at(o, position, start) ? -std::numeric_limits<double>::infinity()
                                          : worth(*problem, o, position, start);
    }
};

/// The number of ends that are out, below zero, and behind that the worth: no infinity anywhere.
struct penalising {
    using score_type = lexicographic_score<std::int64_t, double>;
    const cutting_problem* problem;
    rule_of_ends out;
    [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const { return term(o, from, true); }
    [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const { return term(o, to, false); }

private:
    [[nodiscard]] score_type term(std::size_t o, std::size_t position, bool start) const {
        return {{out.at(o, position, start) ? -1 : 0, worth(*problem, o, position, start)}};
    }
};

template <class Forbidding, class Penalising>
void check_same(const Forbidding& found, const Penalising& oracle, std::size_t& planned, std::size_t& none) {
    const auto [penalty, score] = oracle.score.parts;
    CHECK(found.finite == (penalty == 0));
    if (penalty == 0) {
        CHECK(found.score == score);
        CHECK(found.stretches == oracle.stretches);
        ++planned;
    } else {
        CHECK(forbids(found.score));
        ++none;
    }
}

request small_request(std::uint64_t seed, bool linked) {
    dice d(seed + 4'200'000);
    request r = random_request(d, 8, 24);
    if (d.once_in(2)) add_limits(d, r);
    for (cut_spec& spec : r.specs)
        if (spec.thickness_step > length{}) spec.kerf = {};
    if (linked) add_links(d, r);
    return r;
}

} // namespace

TEST_CASE("what minus infinity forbids is never planned, and all else as if a penalty came before it") {
    for (const bool linked : {false, true}) {
        std::size_t planned = 0, none = 0;
        for (std::uint64_t seed = 0; seed < rounds(120); ++seed) {
            CAPTURE(seed, linked);
            const request r = small_request(seed, linked);
            const cutting_problem problem(r.meat, r.specs, r.rules);
            const rule_of_ends out{seed, 2 + seed % 5};
            const forbidding objective{&problem, out};
            const penalising penalty{&problem, out};
            const auto oracle = best_path(problem, penalty);
            check_same(best_path(problem, objective), oracle, planned, none);
            check_same(best_path(problem, as_whole_slabs<forbidding>{objective}), oracle, planned, none);
            const auto best = plan(problem, objective);
            CHECK((best.stop == stop_reason::objective_not_finite) == (std::get<0>(oracle.score.parts) < 0));
        }
        CHECK(planned > 50);
        CHECK(none > 30);
    }
}

TEST_CASE("what is forbidden in a later part of a score is forbidden") {
    std::size_t planned = 0;
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        CAPTURE(seed);
        const request r = small_request(seed, seed % 2 == 1);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const rule_of_ends out{seed, 3 + seed % 5};
        const portion_count_objective count(problem);
        const auto found = best_path(problem, lexicographic(count, forbidding{&problem, out}));
        // The penalty and the worth with the number of portions between them.
        struct counted {
            using score_type = lexicographic_score<std::int64_t, std::int64_t, double>;
            const portion_count_objective* count;
            penalising inner;
            [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const {
                const auto s = inner.opening(o, from);
                return {{std::get<0>(s.parts), count->opening(o, from), std::get<1>(s.parts)}};
            }
            [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const {
                const auto s = inner.closing(o, to);
                return {{std::get<0>(s.parts), count->closing(o, to), std::get<1>(s.parts)}};
            }
        };
        const auto oracle = best_path(problem, counted{&count, {&problem, out}});
        CHECK(found.finite == (std::get<0>(oracle.score.parts) == 0));
        if (!found.finite) continue;
        CHECK(found.stretches == oracle.stretches);
        ++planned;
    }
    CHECK(planned > 40);
}

TEST_CASE("demands are met without what is forbidden, by count states and by relaxation") {
    std::size_t met = 0, impossible = 0, relaxed_met = 0;
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        CAPTURE(seed);
        const request r = small_request(seed, seed % 3 == 0);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const rule_of_ends out{seed, 3 + seed % 5};
        const forbidding objective{&problem, out};
        dice d(seed);
        std::vector<demand> demands{
            {.spec = std::size_t{0}, .at_least = static_cast<std::int64_t>(d.whole(0, 3)) * r.specs[0].pieces}};
        if (d.once_in(2)) demands.front().at_most = demands.front().at_least;
        const auto free = best_path(problem, objective);
        const auto found = best_path_with_demand(problem, objective, demands);
        CHECK(found.finite == free.finite);
        if (!found.finite) continue;
        const auto oracle = best_path_with_demand(problem, penalising{&problem, out}, demands);
        const bool possible = oracle.outcome == demand_outcome::met && std::get<0>(oracle.score.parts) == 0;
        CHECK((found.outcome == demand_outcome::met) == possible);
        const auto relaxed = best_path_with_demand(problem, objective, demands, {.most_entries = 0});
        if (possible) {
            CHECK(found.score == std::get<1>(oracle.score.parts));
            CHECK(found.stretches == oracle.stretches);
            ++met;
            CHECK_FALSE(relaxed.bound < found.score - 1e-9 * std::abs(found.score));
        } else {
            REQUIRE_FALSE(found.shortfalls.empty());
            for (const demand_shortfall& s : found.shortfalls) CHECK_FALSE(s.text.empty());
            ++impossible;
        }
        if (relaxed.outcome != demand_outcome::met) continue;
        CHECK(possible);
        double sum = 0.0;
        for (const grid_slab& s : relaxed.stretches)
            sum += slab_score(objective, s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0), s.from,
                              s.to);
        CHECK(sum == relaxed.score);
        ++relaxed_met;
    }
    CHECK(met > 20);
    CHECK(impossible > 10);
    CHECK(relaxed_met > 10);
}

TEST_CASE("the fewest settings are found among plans that nothing forbids") {
    std::size_t found = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        CAPTURE(seed);
        const request r = small_request(seed, seed % 2 == 1);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const forbidding objective{&problem, {seed, 4 + seed % 5}};
        const portion_count_objective count(problem);
        const auto both = lexicographic(count, objective);
        const bool possible = best_path(problem, both).finite;
        const few_settings few = fewest_settings(problem, count, objective);
        CHECK((few.planned.stop != stop_reason::objective_not_finite) == possible);
        if (!possible) continue;
        CHECK(std::isfinite(few.planned.score_parts.at(1).value));
        ++found;
    }
    CHECK(found > 20);
}

namespace {

/// Refuses what no plan can have: slabs that are empty, that reach beyond the loin or begin in front of the facing, and
/// whole ones that are not allowed.
struct only_what_can_be {
    using score_type = double;
    const cutting_problem* problem;
    [[nodiscard]] double slab(std::size_t o, std::size_t from, std::size_t to) const {
        if (!problem->allows(o, from, to)) throw std::logic_error("a slab that cannot be");
        return problem->is_portion(o) ? 1.0 : 0.0;
    }
};
struct only_ends_that_can_be {
    using score_type = std::int64_t;
    const cutting_problem* problem;
    [[nodiscard]] std::int64_t opening(std::size_t, std::size_t from) const {
        if (from < problem->start() || from >= problem->cells()) throw std::logic_error("a start that cannot be");
        return 0;
    }
    [[nodiscard]] std::int64_t closing(std::size_t o, std::size_t to) const {
        if (to <= problem->start() || to > problem->cells()) throw std::logic_error("an end that cannot be");
        return problem->pieces(o);
    }
};

template <objective O>
void plan_every_way(const cutting_problem& problem, const O& objective) {
    const std::vector<demand> some{{.spec = std::size_t{0}, .at_least = 1}};
    const std::vector<demand> none{{.spec = std::size_t{0}, .at_most = 0}};
    CHECK_NOTHROW(plan(problem, objective));
    for (const auto& demands : {some, none}) {
        CHECK_NOTHROW(plan(problem, objective, demands));
        CHECK_NOTHROW(plan(problem, objective, demands, {.most_entries = 0}));
    }
    CHECK_NOTHROW(fewest_settings(problem, portion_count_objective(problem), objective));
}

} // namespace

TEST_CASE("no way to plan asks an objective about a slab that cannot be, wherever the facing ends") {
    for (std::uint64_t seed = 0; seed < rounds(20); ++seed) {
        request r = small_request(seed, seed % 2 == 1);
        for (std::size_t start = 0; start <= r.meat.cells(); start += (start + 3 < r.meat.cells() ? 3 : 1)) {
            CAPTURE(seed, start);
            r.rules.facing = std::min(r.meat.position(start), r.meat.extent() - 1.0 / 1.6e7 * metre); // a grain less
            const cutting_problem problem(r.meat, r.specs, r.rules);
            REQUIRE(problem.start() == start);
            plan_every_way(problem, only_what_can_be{&problem});
            plan_every_way(problem, only_ends_that_can_be{&problem});
            if (start < r.meat.cells()) continue;
            const auto planned = plan(problem, only_ends_that_can_be{&problem});
            CHECK(planned.stop == stop_reason::no_portion_fits);
            CHECK(planned.plan.slabs.size() == 1);
            CHECK(planned.score() == 0.0);
        }
    }
}

} // namespace forbidden_slabs_laws
