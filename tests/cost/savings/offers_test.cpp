// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/offers.hpp>

#include <algorithm>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "cost/samples.hpp"
#include "support/catch.hpp"

namespace offers_test {

using namespace cost_samples;
using namespace tranche_test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Invented: an untrimmed loin, a trimmed one that is dearer, and ready-cut steak.
std::vector<offer<eur>> three_offers() {
    return {offer_at_yield<eur>("untrimmed, near", {.weight = 6_kg, .price = 12_eur / 1_kg},
                                {.yield = 0.70, .rest = 3_eur / 1_kg, .edible_share = 0.80, .costs = 6_eur}),
            offer_at_yield<eur>("trimmed, far", {.weight = 5_kg, .price = 15_eur / 1_kg},
                                {.yield = 0.90, .rest = 2_eur / 1_kg, .edible_share = 0.80, .costs = 4_eur}),
            offer_at_yield<eur>("ready cut", {.weight = 1_kg, .price = 22_eur / 1_kg},
                                {.yield = 1.0, .edible_share = 0.75})};
}

} // namespace

TEST_CASE("offers are ranked by what an edible portion costs") {
    const auto ranked = rank_offers(three_offers(), 240_g);
    // Computed. Untrimmed: 72 - 1.8 × 3 + 6 = 72.60 for 4.2 × 0.8 = 3.36 kg: 21.607143 a kg, 5.1857 a portion. Trimmed:
    // 75 - 0.5 × 2 + 4 = 78.00 for 4.5 × 0.8 = 3.6 kg: 21.666667, 5.20. Ready cut: 22 for 0.75 kg: 29.333333, 7.04.
    REQUIRE(ranked.size() == 3);
    CHECK(ranked[0].index == 0);
    CHECK(ranked[1].index == 1);
    CHECK(ranked[2].index == 2);
    CHECK_THAT(ranked[0].edible_portion_cost.value(), WithinRel(72.6 / 3.36, 1e-14));
    CHECK(ranked[0].cost_per_portion.minor == 519);
    CHECK(ranked[1].cost_per_portion.minor == 520);
    CHECK(ranked[2].cost_per_portion.minor == 704);
    CHECK_THAT(ranked[0].portions, WithinRel(14.0, 1e-14)); // 3.36 kg / 240 g
    // The best is worth up to what the second costs, the others up to what the best costs.
    CHECK_THAT(ranked[0].worth_up_to.value().value(), WithinRel((78.0 / 3.6 * 3.36 + 5.4 - 6.0) / 6.0, 1e-14));
    CHECK_THAT(ranked[1].worth_up_to.value().value(), WithinRel((72.6 / 3.36 * 3.6 + 1.0 - 4.0) / 5.0, 1e-14));
    CHECK_THAT(ranked[2].worth_up_to.value().value(), WithinRel(72.6 / 3.36 * 0.75, 1e-14));
    for (std::size_t k = 0; k < 3; ++k) CHECK(ranked[k].rank == k + 1);
}

TEST_CASE("an offer from a yield test has the published cost of a usable pound") {
    // Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6, rib of beef: 38 lb
    // 12 oz at 3.19 USD/lb, primary value 113.43, 22 lb oven-ready; computed to more digits 5.156136 USD/lb.
    const auto test = cutting_yield_test<usd>(
        {.weight = 38.75_lb, .price = 3.19_usd / 1_lb},
        {{.name = "fat", .weight = 6.5_lb},
         {.name = "bones", .weight = 4.25_lb, .role = part_role::by_product, .value = 0.32_usd / 1_lb},
         {.name = "short ribs", .weight = 3.25_lb, .role = part_role::by_product, .value = 1.49_usd / 1_lb},
         {.name = "chopped beef", .weight = 2.5_lb, .role = part_role::by_product, .value = 1.59_usd / 1_lb},
         {.name = "loss in cutting", .weight = 0.25_lb},
         {.name = "oven-ready", .weight = 22_lb, .role = part_role::usable}});
    const auto ranked = rank_offers<usd>({offer_of("rib", test)}, 10_oz);
    CHECK_THAT(ranked[0].edible_portion_cost * pound / 1_usd, WithinAbs(5.156136, 5e-7));
    CHECK(ranked[0].cost_per_portion.minor == 322); // published: 0.322 an ounce
    CHECK_FALSE(ranked[0].worth_up_to.has_value()); // there is nothing to compare it with
}

TEST_CASE("an offer from a plan costs what a saving against it breaks even at") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        const scenario s = invented(seed);
        const auto settled = settle(s.cuts.plan, s.bought, s.prices);
        if (settled.test.usable.count == 0) continue;
        const cutting_costs<eur> costs{.time = 30_min, .pay = 18_eur / 1_h, .packaging = 0.1_eur, .knife_wear = 1_eur};
        const auto ranked = rank_offers<eur>({offer_of("planned", s.cuts.plan, settled, {}, costs)}, 300_g);
        // Against all of the portions, with ready-cut meat of which all is wanted.
        const auto saved = make_or_buy<eur>({.name = "all lean", .price = 1_eur / 1_kg, .edible_share = 1.0},
                                            s.cuts.plan, settled, {.prices = s.prices, .costs = costs});
        const auto even = break_even_ready_price(saved.terms);
        if (even.at) CHECK_THAT(ranked[0].edible_portion_cost.value(), WithinRel(even.at->value(), 1e-11));
    }
}

TEST_CASE("offers bought at the price that they are worth up to cost what the best of the others does") {
    std::mt19937 random(11);
    for (int round = 0; round < 200; ++round) {
        std::vector<offer<eur>> offers;
        for (int k = 0; k < 4; ++k)
            offers.push_back(offer_at_yield<eur>(
                std::to_string(k),
                {.weight = between(random, 2, 9) * kilogram, .price = between(random, 5, 30) * 1_eur / 1_kg},
                {.yield = between(random, 0.4, 1),
                 .rest = between(random, 0, 6) * 1_eur / 1_kg,
                 .edible_share = between(random, 0.5, 1),
                 .costs = between(random, 0, 10) * 1_eur}));
        const auto ranked = rank_offers(offers, 250_g);
        for (std::size_t k = 0; k < ranked.size(); ++k) {
            if (k > 0) CHECK(ranked[k - 1].edible_portion_cost <= ranked[k].edible_portion_cost * (1.0 + 1e-9));
            if (!ranked[k].worth_up_to) continue;
            offer<eur> other = ranked[k].offer;
            other.bought.price = *ranked[k].worth_up_to;
            const auto alone = rank_offers<eur>({other}, 250_g);
            const auto best = ranked[k == 0 ? 1 : 0].edible_portion_cost;
            CHECK_THAT(alone[0].edible_portion_cost.value(), WithinRel(best.value(), 1e-11));
        }
        // The order given plays no part where costs differ, as they do here.
        std::vector<offer<eur>> turned(offers.rbegin(), offers.rend());
        const auto again = rank_offers(turned, 250_g);
        for (std::size_t k = 0; k < ranked.size(); ++k) CHECK(again[k].offer.name == ranked[k].offer.name);
    }
}

TEST_CASE("offers that cost the same share a rank and stay in order") {
    auto offers = three_offers();
    offers.push_back(offers[0]);
    offers.back().name = "the same again";
    offers.insert(offers.begin(), offers[2]);
    const auto ranked = rank_offers(offers, 240_g);
    const auto name = [&](std::size_t k) { return ranked[k].offer.name; };
    CHECK(name(0) == "untrimmed, near");
    CHECK(name(1) == "the same again");
    CHECK(name(3) == "ready cut");
    CHECK(ranked[3].index == 0);
    CHECK(ranked[4].index == 3);
    std::vector<std::size_t> ranks;
    for (const auto& r : ranked) ranks.push_back(r.rank);
    CHECK(ranks == std::vector<std::size_t>{1, 1, 3, 4, 4});
    // The same quotient by another way, an ulp apart: 0.1 + 0.2 is not 0.3.
    const auto at = [](double price) {
        return offer_at_yield<eur>("", {.weight = 1_kg, .price = price * 1_eur / 1_kg}, {.yield = 1.0});
    };
    const auto close = rank_offers<eur>({at(0.1 + 0.2), at(0.3)}, 1_kg);
    CHECK(close[0].index == 0);
    CHECK(close[1].rank == 1);
}

TEST_CASE("twice the weight at the same price changes what is bought and not what a portion costs") {
    auto offers = three_offers();
    for (offer<eur>& o : offers) {
        o.bought.weight *= 2.0;
        o.portions *= 2.0;
        o.credit *= 2.0;
        o.costs *= 2.0;
    }
    const auto once = rank_offers(three_offers(), 240_g), twice = rank_offers(offers, 240_g);
    for (std::size_t k = 0; k < once.size(); ++k) {
        CHECK(twice[k].cost_per_portion == once[k].cost_per_portion);
        CHECK_THAT(twice[k].portions, WithinRel(2.0 * once[k].portions, 1e-15));
    }
}

TEST_CASE("an offer worth nothing at any price says so") {
    auto offers = three_offers();
    offers[0].costs = 1000_eur;
    const auto ranked = rank_offers(offers, 240_g);
    CHECK(ranked.back().offer.name == "untrimmed, near");
    CHECK_FALSE(ranked.back().worth_up_to.has_value());
}

TEST_CASE("offers that are none are refused by name") {
    const auto complaint = [](auto change) {
        auto offers = three_offers();
        change(offers[1]);
        try {
            (void)rank_offers(offers, 240_g);
        } catch (const invalid_input& error) {
            return std::string(error.what());
        }
        return std::string("no error");
    };
    CHECK_THAT(complaint([](auto& o) { o.bought.weight = 0_kg; }), StartsWith("trimmed, far: weight: got 0 g"));
    CHECK_THAT(complaint([](auto& o) { o.bought.price = -1_eur / 1_kg; }),
               StartsWith("trimmed, far: price: got -1 EUR/kg"));
    CHECK_THAT(complaint([](auto& o) { o.bought.price = not_a_number * 1_eur / 1_kg; }),
               StartsWith("trimmed, far: price: got nan"));
    CHECK_THAT(complaint([](auto& o) { o.portions = {}; }), StartsWith("trimmed, far: portions: got 0 g"));
    CHECK_THAT(complaint([](auto& o) { o.portions = 5.1_kg; }), StartsWith("trimmed, far: portions: got 5100 g"));
    CHECK_THAT(complaint([](auto& o) { o.edible_share = 0.0; }), StartsWith("trimmed, far: edible_share: got 0"));
    CHECK_THAT(complaint([](auto& o) { o.edible_share = not_a_number; }),
               StartsWith("trimmed, far: edible_share: got nan"));
    CHECK_THAT(complaint([](auto& o) { o.credit = not_a_number * 1_eur; }), StartsWith("trimmed, far: credit"));
    CHECK_THAT(complaint([](auto& o) { o.costs = -1_eur; }), StartsWith("trimmed, far: costs: got -1 EUR"));
    CHECK_THAT(complaint([](auto& o) { o.costs = 1e300_eur; }), StartsWith("trimmed, far: cost of a portion: got"));
    const purchase<eur> bought{.weight = 1_kg, .price = 1_eur / 1_kg};
    for (const double yield : {0.0, -0.5, 1.5, not_a_number})
        CHECK_THROWS_WITH(offer_at_yield<eur>("x", bought, {.yield = yield}), StartsWith("x: yield: got"));
    CHECK_THROWS_WITH(rank_offers<eur>({}, 1_kg), StartsWith("offers: got none"));
    CHECK_THROWS_WITH(rank_offers(three_offers(), 0_kg), StartsWith("portion: got 0 g"));
    CHECK_THROWS_WITH(rank_offers(three_offers(), not_a_number * kilogram), StartsWith("portion: got nan"));
}

} // namespace offers_test
