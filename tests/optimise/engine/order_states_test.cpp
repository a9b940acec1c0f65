// How many states an order of cuts takes, and what happens when those are too many.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/engine/detail/order_states.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

namespace order_states_test {

using namespace tranche;
using namespace tranche::literals;

namespace {

std::string named(std::size_t i) { return "cut " + std::to_string(i); }

std::vector<cut_spec> so_many_cuts(std::size_t count) {
    std::vector<cut_spec> specs;
    for (std::size_t i = 0; i < count; ++i) specs.push_back({.name = named(i), .thickness = 12_mm});
    return specs;
}
/// Each cut before all later ones.
std::vector<cut_order> one_behind_the_other(std::size_t count) {
    std::vector<cut_order> order;
    for (std::size_t then = 1; then < count; ++then)
        for (std::size_t first = 0; first < then; ++first) order.push_back({named(first), named(then)});
    return order;
}
/// The first half of the cuts each before one of its own of the second half.
std::vector<cut_order> pairs(std::size_t count) {
    std::vector<cut_order> order;
    for (std::size_t i = 0; i < count; ++i) order.push_back({named(i), named(count + i)});
    return order;
}
/// Invented: a loin on which later cuts of one thickness weigh less.
profile tapering(length step = 2_mm) {
    return tabulate(tapered_loin{.length = 30_cm,
                                 .rib = {.width = 17_cm, .depth = 8_cm},
                                 .sirloin = {.width = 13_cm, .depth = 6_cm}},
                    step);
}

} // namespace

TEST_CASE("cuts that lie one behind the other take as many states as there are cuts, pairs a power of two") {
    const profile meat = tapering();
    for (const std::size_t n : std::vector<std::size_t>{1, 2, 5, 9}) {
        CAPTURE(n);
        const cutting_problem chain(meat, so_many_cuts(n), {.order = one_behind_the_other(n)});
        const detail::order_states states(chain, n);
        REQUIRE(states.fit());
        CHECK(states.count() == n);
        CHECK(states.largest() == n - 1);
        CHECK((n == 1 || !detail::order_states(chain, n - 1).fit()));
        const cutting_problem apart(meat, so_many_cuts(2 * n), {.order = pairs(n)});
        CHECK(detail::order_states(apart, 1000).count() == std::size_t{1} << n);
        CHECK_FALSE(detail::order_states(apart, (std::size_t{1} << n) - 1).fit());
    }
}

TEST_CASE("a state says which cuts may still come, and slabs lead to later states only") {
    const profile meat = tapering();
    // 0 before 1, 1 before 2: 0 may come behind 2 unless 1 has come.
    const cutting_problem problem(meat, so_many_cuts(3), {.order = {{named(0), named(1)}, {named(1), named(2)}}});
    const detail::order_states states(problem, 100);
    const std::size_t first = problem.loose_count(), none = detail::order_states::none;
    CHECK(states.count() == 4);
    const std::size_t behind_1 = states.behind(0, first + 1), behind_2 = states.behind(0, first + 2);
    CHECK(states.behind(0, first) == 0);
    CHECK(states.behind(behind_1, first) == none);
    CHECK(states.behind(behind_1, first + 1) == behind_1);
    CHECK(states.behind(behind_2, first) == behind_2);
    CHECK(states.behind(behind_2, first + 1) == none);
    CHECK(states.size(states.behind(behind_1, first + 2)) == 2);
    for (std::size_t s = 0; s < states.count(); ++s)
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            const std::size_t to = states.behind(s, o);
            if (to == none) continue;
            CHECK(to >= s);
            CHECK((to == s) == (states.size(to) == states.size(s)));
        }
}

TEST_CASE("twenty cuts one behind the other are planned") {
    // Two to the twentieth states of cuts seen would be 1.3 GB.
    const profile meat = tapering();
    constexpr std::size_t n = 20;
    std::vector<cut_spec> specs = so_many_cuts(n);
    for (std::size_t i = 0; i < n;
         ++i) // thinner towards the sirloin, so that the best of all would be the other way round
        specs[i].portion = {(120.0 + 4.0 * static_cast<double>(n - i)) * gram, 250_g},
        specs[i].thickness = {(24.0 - 0.5 * static_cast<double>(i)) * millimetre, 30_mm};
    std::vector<cut_order> order;
    for (const cut_order& o : one_behind_the_other(n)) order.push_back({o.then, o.first});
    const planned free = least_waste(meat, specs), ordered = least_waste(meat, specs, {.order = order});
    CHECK(ordered.feasible());
    CHECK(ordered.score() <= free.score());
    CHECK(ordered.searched.states <= n + 1);
    CHECK(verify(ordered.plan, meat, specs, {.order = order}).empty());
}

TEST_CASE(
    "an order that takes more states than there is room for is refused by name, or relaxed where there are demands") {
    const profile meat = tapering(0.1_mm);
    constexpr std::size_t n = 11; // 2048 states of 3001 positions
    std::vector<cut_spec> specs = so_many_cuts(2 * n);
    for (std::size_t i = 0; i < n;
         ++i) { // what should lie first is better at the sirloin end, where the loin is lighter
        specs[i].portion = {0_g, 130_g};
        specs[n + i].portion = {130_g, 400_g};
    }
    const cutting_rules rules{.order = pairs(n)};
    const cutting_problem problem(meat, specs, rules);
    const auto objective = kept_mass_objective::portions_then_mass(problem);
    CHECK_THROWS_AS(detail::order_states_within(problem, detail::most_ordered_entries), invalid_input);
    CHECK_THROWS_AS(detail::count_states<kept_mass_objective>(problem, objective, {}), invalid_input);
    try {
        (void)detail::order_states_within(problem, 3001 * 64);
        FAIL("not refused");
    } catch (const invalid_input& e) {
        const std::string what = e.what();
        CHECK(what.find("order") != std::string::npos);
        CHECK(what.find("more than 64 states") != std::string::npos);
        CHECK(what.find("3001 positions") != std::string::npos);
    }
    // Four states of an order, four times three of demands, and room for less than their product.
    specs.resize(4);
    specs[0].portion = specs[1].portion = {0_g, 160_g};
    specs[2].portion = specs[3].portion = {100_g, 400_g};
    const std::vector<cut_order> two{{named(0), named(2)}, {named(1), named(3)}};
    const profile coarse = tapering();
    const cutting_problem small(coarse, specs, {.order = two});
    const auto most = kept_mass_objective::portions_then_mass(small);
    const std::vector<demand> demands{at_least(3, 0), at_least(2, 2)};
    const auto exact = best_path_with_demand(small, most, demands, {.most_entries = 151 * 4 * 4 * 3});
    const auto relaxed = best_path_with_demand(small, most, demands, {.most_entries = 151 * 4 * 4 * 3 - 1});
    REQUIRE(exact.outcome == demand_outcome::met);
    CHECK(exact.states == 4 * 4 * 3);
    CHECK(relaxed.states == 0);
    CHECK(relaxed.outcome == demand_outcome::met);
    CHECK(relaxed.bound >= exact.score);
}

} // namespace order_states_test
