// The chance that an order is filled, against chances that are known by symmetry and by the binomial distribution.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "orders/two_loins.hpp"
#include <tranche/orders/advice/order_as_cut.hpp>
#include <tranche/study/run/run_study.hpp>

namespace order_as_cut_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// The two loins of the other tests; a thick portion must weigh at least `share` of the 300 g that it is planned to weigh.
order<usd> with_limit(double share) {
    order<usd> wanted = two_loins<usd>();
    wanted.lines[0].cut.portion = {share * 300_g, 600_g};
    return wanted;
}
/// Nothing varies but what is named.
cutting_spreads only(double ratio, double single_slab) {
    return {.ratio = ratio, .bias = 0_mm, .knife = 0_mm, .ruler = 0_mm, .scale = 0_g, .single_slab = single_slab};
}
study_result evenings(const order<usd>& wanted, const cutting_spreads& spreads) {
    return run_study(order_as_cut(wanted, plan_of_two_loins<usd>(), spreads), {.replicates = 20'000});
}
/// Within four standard errors of a share of 20,000: by chance once in 16,000.
auto near_share(double share) { return WithinAbs(share, 4.0 * std::sqrt(share * (1.0 - share) / 20'000.0)); }

} // namespace

TEST_CASE("order_as_cut: what cannot vary is filled as planned, always") {
    const study_result sure = evenings(with_limit(1.0), only(0.0, 0.0));
    CHECK(*sure["filled"].mean() == 1.0);
    CHECK(*sure["thick"].mean() == 3.0);
    CHECK(*sure["thin"].mean() == 2.0);
    CHECK(*sure["missing"].mean() == 0.0);
}

TEST_CASE("order_as_cut: slabs at their limit, each light by itself every other time, fill as three coins do") {
    // Three thick portions of 300 g that must weigh 300 g: (1/2)^3 that none is light, and 3/2 of them on average.
    const study_result coins = evenings(with_limit(1.0), only(0.0, 0.02));
    CHECK_THAT(*coins["filled"].mean(), near_share(0.125));
    CHECK_THAT(*coins["thick"].mean(), WithinAbs(1.5, 4.0 * std::sqrt(0.75 / 20'000.0)));
    CHECK_THAT(*coins["missing"].mean(), WithinAbs(1.5, 4.0 * std::sqrt(0.75 / 20'000.0)));
    CHECK(*coins["thin"].mean() == 2.0); // has no least weight
}

TEST_CASE("order_as_cut: slabs of one loin go together, those of two do not") {
    // Two thick portions of A and one of B: a loin is light every other time, (1/2)^2 that neither is.
    CHECK_THAT(*evenings(with_limit(1.0), only(0.03, 0.0))["filled"].mean(), near_share(0.25));
    // A limit of 97 % is a standard deviation of 3 % away: normal tables have 0.841345 for each loin.
    CHECK_THAT(*evenings(with_limit(0.97), only(0.03, 0.0))["filled"].mean(), near_share(0.841345 * 0.841345));
}

TEST_CASE("order_as_cut: the hand's bias is one for the evening, its slips are one a slab") {
    cutting_spreads bias = only(0.0, 0.0), slips = bias;
    bias.bias = 1_mm;
    slips.knife = 1_mm;
    CHECK_THAT(*evenings(with_limit(1.0), bias)["filled"].mean(), near_share(0.5));
    CHECK_THAT(*evenings(with_limit(1.0), slips)["filled"].mean(), near_share(0.125));
}

TEST_CASE("order_as_cut: loins alike differ from each other, and a plan of another order is refused") {
    order<usd> wanted = with_limit(1.0);
    wanted.loins[1].count = 3;
    wanted.lines[0].at_least = wanted.lines[0].at_most = 3;
    auto plan = plan_of_two_loins<usd>();
    plan.opened.erase(plan.opened.begin());
    plan.opened[0].count = 3;
    wanted.lines[1].at_least = 0;
    const study_result three = run_study(order_as_cut(wanted, plan, only(0.03, 0.0)), {.replicates = 20'000});
    CHECK_THAT(*three["filled"].mean(), near_share(0.125));
    wanted.lines.pop_back();
    CHECK_THROWS_AS(order_as_cut(wanted, plan), invalid_input);
    CHECK_THROWS_AS(order_as_cut(with_limit(1.0), plan_of_two_loins<usd>(), only(-1.0, 0.0)), invalid_input);
}

} // namespace order_as_cut_test
