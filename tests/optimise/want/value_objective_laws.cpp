// Prices up to the largest that 64 bits hold: what is taken is counted right, on the grid of a profile and below it.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace value_objective_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

price_list<usd> scaled(price_list<usd> prices, double by) {
    for (auto& [name, price] : prices.portions) {
        price.by_weight *= by;
        price.each *= by;
    }
    for (auto& value : prices.by_products.values)
        if (value) *value *= by;
    return prices;
}

/// Prices of which some are by the piece alone, others by weight alone, gains and losses.
price_list<usd> one_sided_prices(dice& d, const std::vector<cut_spec>& specs) {
    price_list<usd> prices = random_prices(d, specs);
    for (auto& [name, price] : prices.portions) {
        if (d.once_in(2))
            price = {.by_weight = {}, .each = money<usd>::from_value(d.between(-1.0, 8.0))};
        else
            price.each = {};
    }
    return prices;
}

template <class Make>
bool taken(const Make& make, double scale) {
    try {
        make(scale);
        return true;
    } catch (const invalid_input&) {
        return false;
    }
}
/// The largest scale of prices that is taken, to six digits.
template <class Make>
double largest_scale(const Make& make) {
    double low = 1.0, high = 1e30;
    REQUIRE(taken(make, low));
    REQUIRE_FALSE(taken(make, high));
    while (high / low > 1.000'001) {
        const double middle = std::sqrt(low * high);
        (taken(make, middle) ? low : high) = middle;
    }
    return low;
}

/// The scores of an objective in a type of 64 bits behind the sign, in which sums up to twice as large are exact.
template <class O>
struct in_wide_numbers {
    using score_type = long double;
    const O* inner;
    [[nodiscard]] long double slab(std::size_t o, std::size_t from, std::size_t to) const {
        if constexpr (separable_objective<O>)
            return static_cast<long double>(inner->opening(o, from)) + static_cast<long double>(inner->closing(o, to));
        else
            return static_cast<long double>(inner->slab(o, from, to));
    }
};

/// At the largest prices taken, the plan is that of exact sums, and worth a million times what it is at a millionth of them.
template <class Make>
void check_at_largest(const cutting_problem& problem, const Make& make) {
    const double scale = largest_scale(make);
    const auto objective = make(scale), small = make(scale * 1e-6);
    const auto found = best_path(problem, objective);
    const auto exact = best_path(problem, in_wide_numbers<std::decay_t<decltype(objective)>>{&objective});
    CHECK(static_cast<long double>(found.score) == exact.score);
    CHECK(found.stretches == exact.stretches);
    // Rounding of less than a hundred terms to 0.5, a million times, and 4e18 to sixteen digits.
    CHECK(std::abs(1e6 * static_cast<double>(best_path(problem, small).score) - static_cast<double>(found.score)) <
          1e8);
}

} // namespace

TEST_CASE("the largest prices that are taken are added up right") {
    static_assert(std::numeric_limits<long double>::digits >= 64);
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        dice d(seed + 660'000);
        request r = random_request(d, 8, 30);
        if (d.once_in(2)) add_limits(d, r);
        for (cut_spec& spec : r.specs)
            if (spec.thickness_step > length{}) spec.kerf = {};
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const price_list<usd> prices = seed % 2 == 0 ? one_sided_prices(d, r.specs) : random_prices(d, r.specs);
        CAPTURE(seed);
        check_at_largest(problem, [&](double by) { return worth_objective(problem, scaled(prices, by)); });
        const knife_spread knife{.bias = d.between(-2.0, 2.0) * millimetre,
                                 .spread = (d.once_in(3) ? 1000.0 : 1.0) * d.between(0.0, 3.0) * millimetre};
        check_at_largest(problem,
                         [&](double by) { return expected_value_objective<usd>(problem, scaled(prices, by), knife); });
    }
}

TEST_CASE("no price is taken that overflows, however large") {
    const profile meat = tabulate(prism_loin{.length = 42_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 2_mm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = {25_mm, 38_mm}, .portion = {200_g, 600_g}}},
                                  {});
    for (const double much :
         {1e10, 1e15, 1e300, std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()}) {
        price_list<usd> by_weight, each, loose;
        by_weight.portions["steak"] = {.by_weight = unit_price<usd>::from_value(much)};
        each.portions["steak"] = {.by_weight = {}, .each = money<usd>::from_value(much)};
        loose.portions["steak"] = {.by_weight = unit_price<usd>::from_value(10.0)};
        loose.by_products[destination::grind] = unit_price<usd>::from_value(much);
        for (const auto& prices : {by_weight, each, loose}) {
            CAPTURE(much);
            CHECK_THROWS_AS(worth_objective(problem, prices), invalid_input);
            CHECK_THROWS_AS((expected_value_objective<usd>(problem, prices, {})), invalid_input);
        }
    }
}

TEST_CASE("a mass ratio that makes prices by the piece overflow is refused") {
    const profile meat = tabulate(prism_loin{.length = 42_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 2_mm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = {25_mm, 38_mm}}}, {});
    price_list<usd> prices;
    prices.portions["steak"] = {.by_weight = {}, .each = money<usd>::from_value(1e7)};
    worth_objective worth(problem, prices);
    const auto score = slab_score(worth, 1, 0, 15);
    for (const double bad : {0.0, -1.0, 1e-300, std::numeric_limits<double>::quiet_NaN()})
        CHECK_THROWS_AS(worth.set_mass_ratio(bad), invalid_input);
    CHECK(slab_score(worth, 1, 0, 15) == score);
    worth.set_mass_ratio(0.5);
    CHECK(slab_score(worth, 1, 0, 15) == 2 * score);
}

TEST_CASE("polish takes the prices that the plan of the grid takes") {
    // A currency of small units, and portions that sell by the piece: values of 4e6 in all, on 30 000 cells.
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 30_mm}, .portion = {150_g, 400_g}};
    price_list<jpy> prices;
    prices.portions["steak"] = {.by_weight = {}, .each = money<jpy>::from_value(400'000.0)};
    const auto make = [&](const cutting_problem& p) { return worth_objective(p, prices); };
    const planned coarse = best_value(meat, {steak}, prices);
    const polished_cuts fine = polish(meat, {.cuts = {steak}}, make);
    CHECK(coarse.plan.portion_count() == 15); // 300 mm by 20
    CHECK(fine.planned.plan.portion_count() == 15);
    CHECK(fine.planned.score() == 15 * 400'000.0 * 1e9);
}

} // namespace value_objective_laws
