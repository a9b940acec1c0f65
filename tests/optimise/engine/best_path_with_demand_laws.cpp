// What must hold between plans with related demands, on loins of the size that people have.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/engine/detail/demands/relaxed_demand.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"
#include "optimise/score_numbers.hpp"

namespace segment_with_demand_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

template <objective O>
auto relaxed_by_prices(const cutting_problem& problem, const O& objective,
                       const std::vector<detail::slab_demand>& rows) {
    const search_limits limits{};
    detail::search_clock clock(limits);
    return detail::relaxed_demand(problem, objective, rows, clock).run();
}

/// Demands of up to eight portions, for about two specs in three.
std::vector<demand> demands_for(dice& d, const request& r) {
    std::vector<demand> demands;
    for (std::size_t i = 0; i < r.specs.size(); ++i) {
        if (d.once_in(3)) continue;
        const auto low = static_cast<std::int64_t>(d.whole(0, 4));
        const auto high = low + static_cast<std::int64_t>(d.whole(0, 4));
        demands.push_back({.spec = i, .at_least = low, .at_most = d.once_in(3) ? demand::any_number : high});
    }
    return demands;
}

std::vector<std::int64_t> portions_of_each(const cutting_plan& p) {
    std::vector<std::int64_t> counts(p.specs.size());
    for (const slab& s : p.slabs)
        if (s.kind == slab_kind::portions) counts[s.option] += p.specs[s.option].pieces;
    return counts;
}

bool meets(const cutting_plan& p, const std::vector<demand>& demands) {
    const auto counts = portions_of_each(p);
    for (const demand& wanted : demands) {
        const std::int64_t n = counts[spec_of(wanted, p.specs)];
        if (n < wanted.at_least || n > wanted.at_most) return false;
    }
    return true;
}

} // namespace

TEST_CASE("a looser demand never does worse") {
    std::size_t better = 0, possible = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 610'000);
        const request r = request_of_size(d, 60, 300);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        std::vector<demand> demands = demands_for(d, r);
        if (demands.empty()) continue;
        const auto tight = best_path_with_demand(problem, objective, demands);
        demand& looser = demands[d.whole(0, demands.size() - 1)];
        if (looser.at_least > 0) looser.at_least -= static_cast<std::int64_t>(d.whole(0, 1));
        if (looser.at_most != demand::any_number) looser.at_most += static_cast<std::int64_t>(d.whole(0, 2));
        const auto loose = best_path_with_demand(problem, objective, demands);
        CAPTURE(seed);
        if (tight.outcome != demand_outcome::met) {
            better += loose.outcome == demand_outcome::met;
            continue;
        }
        ++possible;
        CHECK(loose.outcome == demand_outcome::met);
        CHECK(loose.score >= tight.score);
        better += loose.score > tight.score;
    }
    CHECK(possible > 100);
    CHECK(better > 20);
}

TEST_CASE("a demand that the best plan meets already changes nothing") {
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 620'000);
        const request r = request_of_size(d, 60, 300);
        const planned free = most_portions(r.meat, r.specs, r.rules);
        if (!free.feasible()) continue;
        const auto counts = portions_of_each(free.plan);
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i)
            demands.push_back(
                {.spec = i,
                 .at_least = counts[i] - static_cast<std::int64_t>(d.whole(0, 1)) * (counts[i] > 0 ? 1 : 0),
                 .at_most = counts[i] + static_cast<std::int64_t>(d.whole(0, 2))});
        const tranche::planned planned = most_portions(r.meat, r.specs, r.rules, demands);
        CAPTURE(seed);
        CHECK(planned.stop == stop_reason::optimal);
        CHECK(planned.score() == free.score());
        CHECK(planned.plan.slabs.size() == free.plan.slabs.size());
        bool same = planned.plan.slabs.size() == free.plan.slabs.size();
        for (std::size_t i = 0; same && i < free.plan.slabs.size(); ++i)
            same = planned.plan.slabs[i].start == free.plan.slabs[i].start &&
                   planned.plan.slabs[i].option == free.plan.slabs[i].option;
        CHECK(same);
    }
}

TEST_CASE("the exact optimum lies between the plan and the bound of the relaxation") {
    std::size_t compared = 0, found = 0, closed = 0, gaps = 0;
    for (std::uint64_t seed = 0; seed < rounds(50); ++seed) {
        dice d(seed + 630'000);
        const request r = request_of_size(d, 60, 300);
        const std::vector<demand> demands = demands_for(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto check = [&](const auto& objective) {
            const auto exact = best_path_with_demand(problem, objective, demands);
            const auto relaxed = best_path_with_demand(problem, objective, demands, {.most_entries = 0});
            CAPTURE(seed);
            if (exact.outcome != demand_outcome::met) {
                CHECK(relaxed.outcome != demand_outcome::met);
                return;
            }
            CHECK(exact.proven_optimal());
            CHECK_FALSE(relaxed.bound < exact.score);
            if (exact.states == 1) return; // nothing was searched
            ++compared;
            if (relaxed.outcome != demand_outcome::met) return;
            ++found;
            CHECK_FALSE(exact.score < relaxed.score);
            closed += relaxed.score == exact.score;
            gaps += !relaxed.proven_optimal();
            // The first part that differs from the bound is no further from the best than the gap, those before are best.
            const auto best = detail::numbers_of(exact.score), plan_has = detail::numbers_of(relaxed.score),
                       bounds = detail::numbers_of(relaxed.bound);
            std::size_t part = 0;
            for (; part < best.size() && plan_has[part] == bounds[part]; ++part) CHECK(plan_has[part] == best[part]);
            if (part < best.size()) CHECK(best[part] <= bounds[part]);
            const cutting_plan laid = lay_out(r.meat, r.specs, r.rules, relaxed.stretches);
            CHECK(meets(laid, demands));
            CHECK(verify(laid, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        };
        const portion_count_objective count(problem);
        const portion_mass_objective kept(problem);
        const value_objective<usd> value(problem, random_prices(d, r.specs));
        check(kept_mass_objective::portions_then_mass(problem));
        check(kept_mass_objective::mass_then_portions(problem));
        check(value);
        if (seed % 6 == 0) check(lexicographic(count, kept));
        if (seed % 6 == 2) check(lexicographic(count, evenness_objective(problem, 330_g))); // invented
        if (seed % 6 == 4) check(lexicographic(lexicographic(count, value), kept));
    }
    CHECK(compared > 30);
    CHECK(found == compared); // few states: the beam holds them all
    CHECK(closed == compared);
    CHECK(gaps == 0); // and as it drops none that might be better, that is a proof
}

TEST_CASE("an order of cuts is kept beyond the count states, and no plan that meets the demands is missed") {
    std::size_t compared = 0, ordered = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 635'000);
        request r = request_of_size(d, 60, 200);
        while (r.specs.size() < 2) r = request_of_size(d, 60, 200);
        add_links(d, r);
        for (cut_spec& spec : r.specs) spec.one_thickness = false;
        const std::vector<demand> demands = demands_for(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const auto exact = best_path_with_demand(problem, objective, demands);
        const auto relaxed = best_path_with_demand(problem, objective, demands, {.most_entries = 0, .rounds = 30});
        CAPTURE(seed);
        CHECK((relaxed.outcome == demand_outcome::met) == (exact.outcome == demand_outcome::met));
        if (exact.outcome != demand_outcome::met || exact.states == 1) continue;
        CHECK(relaxed.bound >= exact.score);
        CHECK(relaxed.score == exact.score); // few states: the beam holds them all
        CHECK(verify(lay_out(r.meat, r.specs, r.rules, relaxed.stretches), r.meat, r.specs, r.rules).empty());
        ++compared;
        ordered += !r.rules.order.empty();
    }
    CHECK(compared > 15);
    CHECK(ordered > 10);
}

TEST_CASE("more demands than there is memory for are met by a plan, with a bound and the gap that is left") {
    dice d(645'000);
    const profile meat = tabulate(tapered_loin{.length = 42_cm,
                                               .rib = {.width = 17_cm, .depth = 7_cm, .fat_cover = 1_cm},
                                               .sirloin = {.width = 14_cm, .depth = 6_cm, .fat_cover = 1_cm}},
                                  0.5_mm);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i), .thickness = {thin, thin + 3_mm}});
        // Invented. Three of each take 189 mm at the least, of 420.
        demands.push_back({.spec = i, .at_least = 3, .at_most = 5 + static_cast<std::int64_t>(d.whole(0, 2))});
    }
    const cutting_problem problem(meat, specs, {});
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    const auto found = best_path_with_demand(problem, objective, demands);
    REQUIRE(found.outcome == demand_outcome::met);
    CHECK(found.states == 0); // six states or more each: 46,656 in all, times 841 positions
    CHECK(found.bound >= found.score);
    const tranche::planned planned = plan(problem, objective, demands);
    CHECK(meets(planned.plan, demands));
    CHECK(planned.feasible());
    CHECK(planned.bound() == static_cast<double>(found.bound));
    CHECK(planned.score() >= static_cast<double>(found.score));
    CHECK(planned.proven_optimal() == (planned.gap() == 0.0));
    CHECK(verify(planned.plan, meat, specs, {}) == std::vector<std::string>{});
    // Nobody can have more than the best plan without demands.
    CHECK(found.bound <= best_path(problem, objective).score);
    // Less than a third of a portion of some thirty, as computed: a search that wanders leaves more.
    CHECK(planned.gap() < 0.33 * static_cast<double>(meat.total().count));
    CHECK(planned.plan.portion_count() > 25);
}

namespace {

/// An invented loin, and six cuts of which three to six each are asked for: 117,649 states, times 421 positions.
profile long_loin() {
    return tabulate(tapered_loin{.length = 42_cm,
                                 .rib = {.width = 17_cm, .depth = 7_cm, .fat_cover = 1_cm},
                                 .sirloin = {.width = 14_cm, .depth = 6_cm, .fat_cover = 1_cm}},
                    1_mm);
}
std::vector<cut_spec> six_cuts() {
    std::vector<cut_spec> specs;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                         .thickness = {thin, thin + 4_mm},
                         .portion = {(80.0 + 8.0 * static_cast<double>(i)) * gram, 250_g}});
    }
    return specs;
}
std::vector<demand> three_to_six_of_each() {
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) demands.push_back({.spec = i, .at_least = 3, .at_most = 6});
    return demands;
}

} // namespace

TEST_CASE("the gap is at most 2 % on six cuts of three to five each by count, and small by mass and for other caps") {
    const profile meat = long_loin();
    std::vector<cut_spec> thin = six_cuts();
    for (cut_spec& spec : thin) {
        spec.thickness.max = spec.thickness.min + 3_mm;
        spec.portion = {};
    }
    for (const std::vector<cut_spec>& specs : {thin, six_cuts()})
        for (const std::int64_t most : {4, 5}) {
            std::vector<demand> demands = three_to_six_of_each();
            for (demand& wanted : demands) wanted.at_most = most;
            const cutting_problem problem(meat, specs, {});
            const auto check = [&](const auto& objective) {
                const auto found = best_path_with_demand(problem, objective, demands);
                CAPTURE(most, found.score, found.bound);
                CHECK(found.outcome == demand_outcome::met);
                // As computed: 0.2 % or less by count, 0.4 % by mass.
                CHECK(static_cast<double>(found.bound - found.score) < 0.005 * static_cast<double>(found.score));
                CHECK(found.prices.size() == 6);
            };
            check(kept_mass_objective::portions_then_mass(problem));
            check(kept_mass_objective::mass_then_portions(problem));
        }
}

namespace {

/// Of a hundred numbers, the one that so many are not above.
double quantile(std::vector<double> values, double part) {
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1))];
}

/// Two to four cuts, or as many as are asked for, on a loin of 30 to 50 cm, and demands of up to seven slabs each. Invented.
request several_cuts(dice& d, std::size_t least = 2, std::size_t most = 4) {
    const tapered_loin loin{
        .length = d.between(30.0, 50.0) * centimetre, .rib = random_readings(d), .sirloin = random_readings(d)};
    request r{tabulate(loin, 2_mm), {}, {}};
    const std::size_t cuts = d.whole(least, most);
    for (std::size_t i = 0; i < cuts; ++i) {
        const length thin = static_cast<double>(d.whole(8, 30)) * millimetre;
        r.specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                           .thickness = {thin, thin + d.between(0.0, 20.0) * millimetre},
                           .trim = random_trim(d)});
    }
    snap(r);
    return r;
}
std::vector<demand> asked_of(dice& d, const request& r) {
    std::vector<demand> demands;
    for (std::size_t i = 0; i < r.specs.size(); ++i) {
        const auto low = static_cast<std::int64_t>(d.whole(0, 4));
        demands.push_back({.spec = i, .at_least = low, .at_most = low + static_cast<std::int64_t>(d.whole(0, 3))});
    }
    return demands;
}

} // namespace

TEST_CASE(
    "prices alone bound what the exact search proves to 1 % in the median, and to 5 % in nineteen of twenty cases") {
    std::vector<double> gaps;
    for (std::uint64_t seed = 0; seed < rounds(40); ++seed) {
        dice d(seed + 647'000);
        const request r = several_cuts(d);
        const std::vector<demand> demands = asked_of(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto check = [&](const auto& objective) {
            const auto exact = best_path_with_demand(problem, objective, demands);
            if (exact.outcome != demand_outcome::met || exact.states == 1) return;
            const auto rows = detail::in_slabs(problem, demands).rows;
            const auto relaxed = relaxed_by_prices(problem, objective, rows);
            CAPTURE(seed);
            CHECK(relaxed.by_prices >= exact.score);
            CHECK(relaxed.bound >= exact.score);
            CHECK(relaxed.bound <= relaxed.by_prices);
            REQUIRE(relaxed.found);
            CHECK(relaxed.score <= exact.score);
            gaps.push_back(static_cast<double>(relaxed.by_prices - exact.score) / static_cast<double>(exact.score));
        };
        if (d.once_in(2))
            check(kept_mass_objective::portions_then_mass(problem));
        else
            check(kept_mass_objective::mass_then_portions(problem));
    }
    REQUIRE(gaps.size() > 15);
    CAPTURE(gaps.size(), quantile(gaps, 0.5), quantile(gaps, 0.95), quantile(gaps, 1.0));
    CHECK(quantile(gaps, 0.5) < 0.01);
    CHECK(quantile(gaps, 0.95) < 0.05);
}

TEST_CASE(
    "a proof beyond the count states ends with their optimum, or with a bound that holds where it may not go on") {
    std::size_t compared = 0;
    for (std::uint64_t seed = 0; seed < rounds(9); ++seed) {
        dice d(seed + 648'000);
        request r = several_cuts(d);
        if (d.once_in(3)) r.rules.order.push_back({"cut A", "cut B"});
        const std::vector<demand> demands = asked_of(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto check = [&](const auto& objective) {
            const auto exact = best_path_with_demand(problem, objective, demands);
            if (exact.states == 1) return;
            CAPTURE(seed);
            const search_limits far{.most_entries = 0, .rounds = 40, .prove = true};
            const auto full = best_path_with_demand(problem, objective, demands, far);
            CHECK(full.outcome == exact.outcome);
            CHECK(full.shortfalls.empty() == exact.shortfalls.empty());
            if (exact.outcome != demand_outcome::met) return;
            ++compared;
            CHECK(full.score == exact.score);
            CHECK(full.proven_optimal());
            // What prices and the beam alone leave open, the states that the proof looks at close.
            search_limits without = far;
            without.prove = false;
            const auto open = best_path_with_demand(problem, objective, demands, without);
            CHECK(open.states == 0);
            CHECK((full.states > 0) == !open.proven_optimal());
            // With hardly any prices and hardly any work: still a bound, and the same each time.
            const search_limits near{.most_entries = 0, .rounds = 2, .prove = true, .most_states = 5};
            const auto cut_off = best_path_with_demand(problem, objective, demands, near);
            CHECK_FALSE(cut_off.bound < exact.score);
            CHECK(cut_off.states <= 5);
            if (cut_off.outcome == demand_outcome::met) CHECK_FALSE(exact.score < cut_off.score);
            CHECK(cut_off == best_path_with_demand(problem, objective, demands, near));
        };
        const portion_count_objective count(problem);
        check(kept_mass_objective::mass_then_portions(problem));
        if (seed % 3 == 0) check(kept_mass_objective::portions_then_mass(problem));
        if (seed % 3 == 1) check(lexicographic(count, portion_mass_objective(problem)));
        if (seed % 3 == 2) check(lexicographic(count, evenness_objective(problem, 200_g))); // invented
    }
    CHECK(compared > 3);
}

TEST_CASE("a proof goes through the states that prices and the beam leave open, and closes the gap") {
    // Invented: a tapering loin and up to six cuts, one to four of each; few rounds, so that prices are poor.
    const profile meat = tabulate(
        tapered_loin{.length = 430 * millimetre,
                     .rib = {.width = 17 * centimetre, .depth = 7 * centimetre, .fat_cover = 8 * millimetre},
                     .sirloin = {.width = 16 * centimetre, .depth = 6 * centimetre, .fat_cover = 6 * millimetre}},
        2 * millimetre);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const double n = static_cast<double>(i);
        const length thin = (12.0 + 4.0 * n) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                         .thickness = {thin, thin + 6.0 * millimetre},
                         .portion = {(150.0 + 45.0 * n) * gram, (210.0 + 50.0 * n) * gram},
                         .gluteus_medius = any_gluteus_medius});
        demands.push_back({.spec = i, .at_least = 1, .at_most = 4});
        if (specs.size() < 5) continue;
        const cutting_problem problem(meat, specs, {});
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const search_limits few{.most_entries = 0, .rounds = specs.size() == 5 ? 1 : 3};
        search_limits proving = few;
        proving.prove = true;
        const auto open = best_path_with_demand(problem, objective, demands, few);
        const auto closed = best_path_with_demand(problem, objective, demands, proving);
        CAPTURE(specs.size(), closed.states);
        CHECK(open.states == 0);
        CHECK_FALSE(open.proven_optimal());
        CHECK(closed.states > 500); // 1500 and 2980, as computed
        CHECK(closed.proven_optimal());
        CHECK_FALSE(closed.score < open.score);
        CHECK_FALSE(open.bound < closed.bound);
        if (specs.size() > 5) continue;
        const auto exact = best_path_with_demand(problem, objective, demands);
        CHECK(exact.states == 500); // as computed
        CHECK(exact.score == closed.score);
    }
}

TEST_CASE("a price is what the last portion asked for or allowed does to the score, and bounds what one more would") {
    std::size_t asked = 0, allowed = 0, one_more = 0;
    for (std::uint64_t seed = 0; seed < rounds(9); ++seed) {
        dice d(seed + 649'020);
        const request r = several_cuts(d);
        const std::vector<demand> demands = asked_of(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const auto exact = best_path_with_demand(problem, objective, demands);
        if (exact.outcome != demand_outcome::met || exact.states == 1) {
            CHECK(exact.prices.empty());
            continue;
        }
        const auto priced = relaxed_by_prices(problem, objective, detail::in_slabs(problem, demands).rows);
        const auto changed = [&](std::size_t spec, std::int64_t least, std::int64_t most) {
            std::vector<demand> others = demands;
            others[spec].at_least += least;
            others[spec].at_most = std::max(others[spec].at_most + most, others[spec].at_least);
            return best_path_with_demand(problem, objective, others);
        };
        REQUIRE(priced.prices.size() == exact.prices.size());
        for (std::size_t k = 0; k < exact.prices.size(); ++k) {
            const demand_price& price = exact.prices[k];
            CAPTURE(seed, price.spec, price.price);
            if (price.price > 0.0) {
                CHECK(static_cast<double>(changed(price.spec, -1, 0).score - exact.score) == price.price);
                ++asked;
            } else if (price.price < 0.0) {
                CHECK(static_cast<double>(changed(price.spec, 0, -1).score - exact.score) == price.price);
                ++allowed;
            }
            // The bound with one more slab asked for (or allowed) is the bound less the price, whatever the prices are.
            const bool more_asked = priced.prices[k] > 0.0;
            const auto more = changed(price.spec, more_asked ? 1 : 0, 1);
            if (priced.prices[k] == 0.0 || more.outcome != demand_outcome::met) continue;
            CHECK(static_cast<double>(more.score) <= static_cast<double>(priced.by_prices) - priced.prices[k] + 1.0);
            ++one_more;
        }
    }
    CHECK(asked > 1);
    CHECK(allowed > 5);
    CHECK(one_more > 10);
}

TEST_CASE("the least giveaway with more demands than there is memory for is a plan that meets them, with its gap") {
    const profile meat = long_loin();
    const std::vector<cut_spec> specs = six_cuts();
    const std::vector<demand> demands = three_to_six_of_each();
    const tranche::planned planned = least_giveaway(meat, specs, {}, {}, demands);
    CHECK(planned.searched.states == 0);
    REQUIRE(planned.feasible());
    CHECK(meets(planned.plan, demands));
    CHECK(verify(planned.plan, meat, specs, {}) == std::vector<std::string>{});
    REQUIRE(planned.score_parts.size() == 2);
    CHECK(planned.score_parts[0].value == static_cast<double>(planned.plan.portion_count()));
    CHECK(bounds_of(planned) >= values_of(planned));
    CHECK(planned.score_parts[0].bound <= least_giveaway(meat, specs).score_parts[0].value);
    const score_part& part = planned.score_parts[planned.score_parts[0].bound == planned.score_parts[0].value ? 1 : 0];
    CHECK(planned.gap() == part.bound - part.value);
    // As computed: 34 portions, and no plan has more; 53.5 g given away, and no plan with as many less than 51.2 g.
    CHECK(planned.score_parts[0].value == 34.0);
    CHECK(planned.score_parts[0].bound == 34.0);
    CHECK(planned.gap() < 3e6);
}

TEST_CASE("more demands than there is memory for are met in an order of cuts as well") {
    const profile meat = long_loin();
    const std::vector<cut_spec> specs = six_cuts();
    const std::vector<demand> demands = three_to_six_of_each();
    const cutting_rules rules{.order = {{"cut F", "cut A"}, {"cut E", "cut B"}, {"cut D", "cut A"}}};
    const planned free = most_portions(meat, specs, {}, demands);
    const planned ordered = most_portions(meat, specs, rules, demands);
    REQUIRE(ordered.feasible());
    CHECK(ordered.searched.states == 0);
    CHECK(meets(ordered.plan, demands));
    CHECK(verify(ordered.plan, meat, specs, rules) == std::vector<std::string>{});
    CHECK(ordered.score() <= free.bound());
    CHECK(ordered.bound() >= ordered.score());
    CHECK(ordered.gap() < 2.0 * static_cast<double>(meat.total().count)); // as computed: between one portion and two
}

TEST_CASE("where cuts of one thickness take more searches than may be, the plan is the best so far, below a bound") {
    const profile meat = tabulate(tapered_loin{.length = 42_cm,
                                               .rib = {.width = 17_cm, .depth = 7_cm, .fat_cover = 1_cm},
                                               .sirloin = {.width = 14_cm, .depth = 6_cm, .fat_cover = 1_cm}},
                                  1_mm);
    std::vector<cut_spec> specs; // invented
    for (std::size_t i = 0; i < 3; ++i) {
        const double more = static_cast<double>(i);
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                         .thickness = {(12.0 + 4.0 * more) * millimetre, (22.0 + 4.0 * more) * millimetre},
                         .portion = {(120.0 + 40.0 * more) * gram, (160.0 + 40.0 * more) * gram},
                         .one_thickness = true});
    }
    const std::vector<demand> demands{at_most(3, "cut A"), at_most(3, "cut B"), at_most(3, "cut C")};
    const cutting_problem problem(meat, specs, {});
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    const auto all = best_path_with_demand(problem, objective, demands);
    REQUIRE(all.proven_optimal());
    std::size_t left = 0;
    for (const std::size_t most : {std::size_t{1}, std::size_t{1} << 17U, std::size_t{1} << 19U}) {
        const auto some = best_path_with_demand(problem, objective, demands, {.most_linked_entries = most});
        CAPTURE(most, all.states, some.states);
        CHECK(some.states < all.states);
        CHECK(some.bound >= all.score);
        CHECK_FALSE(some.proven_optimal());
        CHECK(verify(lay_out(meat, specs, {}, some.stretches), meat, specs, {}) == std::vector<std::string>{});
        if (some.outcome != demand_outcome::met) continue;
        CHECK(some.score <= all.score);
        CHECK(meets(lay_out(meat, specs, {}, some.stretches), demands));
        ++left;
    }
    CHECK(left > 0);
}

TEST_CASE("demands that leave almost nothing of a loin are met beyond the count states") {
    std::size_t found = 0, binding = 0;
    for (std::uint64_t seed = 0; seed < rounds(8); ++seed) {
        dice d(seed + 646'000);
        const tapered_loin loin{.length = 40_cm, .rib = random_readings(d), .sirloin = random_readings(d)};
        const profile meat = tabulate(loin, 1_mm);
        std::vector<cut_spec> specs;
        std::vector<demand> demands;
        for (std::size_t i = 0; i < 5; ++i) {
            const length thin = static_cast<double>(d.whole(8, 25)) * millimetre;
            specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i),
                             .thickness = {thin, thin + d.between(0.0, 6.0) * millimetre}});
            demands.push_back(exactly(1, i));
        }
        // As many of each as there is room for, so there is a plan: one behind the other, each as thin as it may be.
        length left = 40_cm;
        for (const cut_spec& spec : specs) left -= spec.thickness.min;
        for (std::size_t miss = 0; miss < 20;) {
            demand& one = demands[d.whole(0, 4)];
            const length thin = specs[spec_of(one, specs)].thickness.min;
            if (left < thin) {
                ++miss;
                continue;
            }
            left -= thin;
            one.at_most = ++one.at_least;
        }
        const cutting_problem problem(meat, specs, {});
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const auto relaxed = best_path_with_demand(problem, objective, demands, {.most_entries = 0, .rounds = 20});
        CAPTURE(seed);
        CHECK(relaxed.bound <= best_path(problem, objective).score);
        binding += relaxed.states == 0;
        if (relaxed.outcome != demand_outcome::met) continue;
        CHECK(meets(lay_out(meat, specs, {}, relaxed.stretches), demands));
        CHECK(relaxed.score <= relaxed.bound);
        ++found;
    }
    CHECK(binding > 6);
    CHECK(found > 6); // a beam may miss one
}

TEST_CASE("what an answer says can be had, can be had") {
    std::size_t asked = 0;
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 650'000);
        const request r = request_of_size(d, 60, 300);
        std::vector<demand> demands = demands_for(d, r);
        for (demand& wanted : demands)
            if (wanted.at_most == demand::any_number) wanted.at_least *= static_cast<std::int64_t>(d.whole(1, 12));
        const tranche::planned planned = most_portions(r.meat, r.specs, r.rules, demands);
        if (planned.stop != stop_reason::demand_impossible) continue;
        REQUIRE(!planned.shortfalls.empty());
        for (const demand_shortfall& shortfall : planned.shortfalls) {
            CAPTURE(seed, shortfall.text);
            CHECK(planned.why_not().find(shortfall.text) != std::string::npos);
            const std::vector<demand> just{at_least(shortfall.possible, shortfall.spec)};
            CHECK(most_portions(r.meat, r.specs, r.rules, just).shortfalls.empty());
            if (shortfall.text.find("and the loin gives") == std::string::npos) continue;
            const std::vector<demand> more{at_least(shortfall.possible + 1, shortfall.spec)};
            CHECK(most_portions(r.meat, r.specs, r.rules, more).stop == stop_reason::demand_impossible);
            ++asked;
        }
    }
    CHECK(asked > 30);
}

TEST_CASE("with a demand, both kinds of objective find the same score") {
    std::size_t searched = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 660'000);
        const request r = request_of_size(d, 60, 300);
        const std::vector<demand> demands = demands_for(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const auto objective = kept_mass_objective::mass_then_portions(problem);
        const auto fast = best_path_with_demand(problem, objective, demands);
        const auto thorough = best_path_with_demand(problem, as_whole_slabs<kept_mass_objective>{objective}, demands);
        CAPTURE(seed);
        CHECK(fast.outcome == thorough.outcome);
        CHECK(fast.score == thorough.score);
        CHECK(fast.stretches == thorough.stretches);
        searched += fast.states > 1 && fast.outcome == demand_outcome::met;
    }
    CHECK(searched > 15);
}

} // namespace segment_with_demand_laws
