// Objectives in order: what follows from ranking one before the other.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <tuple>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"
#include "optimise/score_numbers.hpp"

namespace lexicographic_laws {

using namespace tranche;
using namespace tranche_test;

static_assert(separable_objective<lexicographic_objective<portion_count_objective, portion_mass_objective>>);
static_assert(
    separable_objective<lexicographic_objective<portion_count_objective, giveaway_objective, value_objective<usd>>>);
static_assert(!separable_objective<lexicographic_objective<portion_count_objective, evenness_objective>>);
static_assert(whole_slab_objective<lexicographic_objective<portion_count_objective, evenness_objective>>);
static_assert(!separable_objective<overweight_objective>);

TEST_CASE("count and then mass, each by itself, give the plans of the two in one number") {
    for (std::uint64_t seed = 0; seed < rounds(400); ++seed) {
        dice d(seed + 700'000);
        const request r = request_of_size(d, 20, 300);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const portion_count_objective count(problem);
        const portion_mass_objective kept(problem);
        CAPTURE(seed);
        const auto in_one = best_path(problem, kept_mass_objective::portions_then_mass(problem));
        const auto in_two = best_path(problem, lexicographic(count, kept));
        CHECK(in_two.stretches == in_one.stretches);
        const auto [portions, micrograms] = in_two.score.parts;
        CHECK(in_one.score == portions * (r.meat.total().count + 1) + micrograms);
        CHECK(best_path(problem, lexicographic(kept, count)).stretches ==
              best_path(problem, kept_mass_objective::mass_then_portions(problem)).stretches);
    }
}

TEST_CASE("the first objective is never worse for the second one behind it") {
    std::size_t second_better = 0;
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 710'000);
        const request r = request_of_size(d, 20, 300);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const portion_count_objective count(problem);
        const value_objective<usd> value(problem, random_prices(d, r.specs));
        CAPTURE(seed);
        const auto alone = best_path(problem, count);
        const auto both = best_path(problem, lexicographic(count, value));
        CHECK(std::get<0>(both.score.parts) == alone.score);
        std::int64_t value_alone = 0;
        for (const grid_slab& s : alone.stretches)
            value_alone +=
                slab_score(value, s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0), s.from, s.to);
        CHECK(std::get<1>(both.score.parts) >= value_alone);
        second_better += std::get<1>(both.score.parts) > value_alone;
    }
    CHECK(second_better > 50);
}

TEST_CASE("both engines find the same plans by the further objectives and by lexicographic ones") {
    const auto check = [](const cutting_problem& problem, const auto& objective) {
        const auto fast = best_path(problem, objective);
        const auto thorough = best_path(problem, as_whole_slabs<std::decay_t<decltype(objective)>>{objective});
        CHECK(fast.score == thorough.score);
        CHECK(fast.stretches == thorough.stretches);
    };
    for (std::uint64_t seed = 0; seed < rounds(150); ++seed) {
        dice d(seed + 720'000);
        request r = request_of_size(d, 60, 300);
        for (cut_spec& spec : r.specs) // giveaway needs a weight that is charged
            if (!(spec.portion.min > mass{})) spec.portion.min = 1e-9 * gram;
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const portion_count_objective count(problem);
        price_list<usd> prices = random_prices(d, r.specs);
        prices.labour = {.slab = money<usd>::from_value(d.between(0.0, 1.0)),
                         .portion = money<usd>::from_value(d.between(0.0, 0.5)),
                         .trimmed = money<usd>::from_value(d.between(0.0, 0.5))};
        CAPTURE(seed);
        check(problem, count);
        check(problem, portion_mass_objective(problem));
        check(problem, giveaway_objective(problem));
        check(problem, value_objective<usd>(problem, prices));
        check(problem, lexicographic(count, giveaway_objective(problem), value_objective<usd>(problem, prices)));
    }
}

TEST_CASE("a part of a lexicographic objective that looks at whole slabs reaches the best of all tilings") {
    for (std::uint64_t seed = 0; seed < rounds(300, many_instances); ++seed) {
        dice d(seed + 730'000);
        const request r = few_tilings(d);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const mass target = to_mass(r.meat.total()) / d.between(3.0, 12.0);
        const auto objective = lexicographic(portion_count_objective(problem), evenness_objective(problem, target));
        using score = decltype(objective)::score_type;
        const std::int64_t aim = to_micrograms(target).count;
        const auto best = all.best<score>([&](std::size_t o, std::size_t from, std::size_t to) {
            if (!all.is_portion(o)) return score{};
            const std::int64_t n = all.spec(o).pieces, off = (all.masses(o, from, to).weight() - n * aim) / (1000 * n);
            return score{{n, -n * off * off}};
        });
        CAPTURE(seed);
        const tranche::planned planned = plan(problem, objective);
        CHECK(best_path(problem, objective).score == best);
        CHECK(values_of(planned) == detail::numbers_of(best));
        CHECK(verify(planned.plan, r.meat, r.specs, r.rules).empty());
    }
}

TEST_CASE("a lexicographic objective tells its parts what the rest weighs") {
    dice d(740'000);
    const request r = request_of_size(d, 100, 300);
    cutting_problem problem(r.meat, r.specs, r.rules);
    const mass target = to_mass(r.meat.total()) / 10.0;
    auto both = lexicographic(portion_count_objective(problem), evenness_objective(problem, target));
    both.set_mass_ratio(1.25);
    const evenness_objective lighter(problem, target / 1.25);
    for (std::size_t o = 0; o < problem.option_count(); ++o)
        for (std::size_t to = 10; to < 40; ++to)
            CHECK(std::get<1>(slab_score(both, o, 5, to).parts) == lighter.slab(o, 5, to));
}

} // namespace lexicographic_laws
