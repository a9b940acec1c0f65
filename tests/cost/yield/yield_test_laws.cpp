// Laws of the yield tests over invented weights and prices: sums, scaling, order, and the way back from a price.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

#include <tranche/cost/yield/cooking_loss.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace yield_test_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct scenario {
    purchase<gbp> bought;
    std::vector<weighed_part<gbp>> parts;
};

/// Two to nine parts of random roles, in whole grams, which add up to what was bought; the first is usable.
scenario invented(std::uint32_t seed) {
    std::mt19937 random(seed);
    scenario s;
    const std::size_t parts = 2 + random() % 8;
    mass whole{};
    for (std::size_t i = 0; i < parts; ++i) {
        const auto role = i == 0 ? part_role::usable : static_cast<part_role>(random() % 3);
        const mass weight = static_cast<double>(1 + random() % 5000) * gram;
        const double value = role == part_role::by_product ? static_cast<double>(random() % 900) * 0.01 - 0.5 : 0.0;
        s.parts.push_back({"part " + std::to_string(i), weight, role, value * 1_gbp / 1_kg});
        whole += weight;
    }
    s.bought = {.weight = whole, .price = static_cast<double>(1 + random() % 4000) * 0.01_gbp / 1_kg};
    return s;
}

} // namespace

TEST_CASE("cutting_yield_test: adds up whatever the parts") {
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        const scenario s = invented(seed);
        const auto test = cutting_yield_test(s.bought, s.parts);
        micrograms sum;
        double ratios = 0.0;
        amount<gbp> credit;
        for (const auto& line : test.lines) {
            sum += line.weight;
            ratios += line.ratio;
            credit += line.credit;
        }
        CHECK(sum == test.whole);
        CHECK(credit == test.credit);
        CHECK(test.primary_value + credit == test.paid);
        CHECK_THAT(ratios, WithinAbs(1.0, 1e-12)); // at most ten roundings
        // Every amount is within half a penny of its exact value.
        CHECK(std::abs(test.unrounded_primary_value.value() - to_money(test.primary_value).value()) <=
              0.005 * static_cast<double>(s.parts.size() + 1));
    }
}

TEST_CASE("cutting_yield_test: does not care about the order of the parts") {
    for (std::uint32_t seed = 1; seed <= 100; ++seed) {
        scenario s = invented(seed);
        const auto test = cutting_yield_test(s.bought, s.parts);
        std::mt19937 random(seed);
        std::shuffle(s.parts.begin(), s.parts.end(), random);
        const auto shuffled = cutting_yield_test(s.bought, s.parts);
        CHECK(shuffled.primary_value == test.primary_value);
        CHECK(shuffled.usable == test.usable);
        CHECK_THAT(shuffled.cost_per_usable()->value(), WithinRel(test.cost_per_usable()->value(), 1e-12));
        for (const auto& line : test.lines) {
            const auto same = std::find_if(shuffled.lines.begin(), shuffled.lines.end(),
                                           [&](const auto& other) { return other.part.name == line.part.name; });
            REQUIRE(same != shuffled.lines.end());
            CHECK(same->weight == line.weight);
            CHECK(same->credit == line.credit);
        }
    }
}

TEST_CASE("cutting_yield_test: scales its costs with its prices and keeps its factor") {
    for (std::uint32_t seed = 1; seed <= 100; ++seed) {
        scenario s = invented(seed);
        const auto test = cutting_yield_test(s.bought, s.parts);
        s.bought.price *= 3.0;
        for (auto& part : s.parts) part.value *= 3.0;
        const auto dearer = cutting_yield_test(s.bought, s.parts);
        // The primary value may cancel to little: what rounds is the price paid.
        const double slack = 1e-13 * dearer.purchase.cost().value() / to_mass(dearer.usable).value();
        CHECK_THAT(dearer.cost_per_usable()->value(), WithinAbs(3.0 * test.cost_per_usable()->value(), slack));
        // When all prices move together, the cost factor says the truth.
        CHECK_THAT(test.costs().per_weight_at(s.bought.price)->value(),
                   WithinAbs(dearer.cost_per_usable()->value(), slack));
    }
}

TEST_CASE("repriced: comes back when the price does, and equals a fresh test") {
    for (std::uint32_t seed = 1; seed <= 100; ++seed) {
        scenario s = invented(seed);
        const auto test = cutting_yield_test(s.bought, s.parts);
        const auto there = repriced<gbp>(test, 17.39_gbp / 1_kg);
        const auto back = repriced<gbp>(there, s.bought.price);
        CHECK(back.primary_value == test.primary_value);
        CHECK_THAT(back.unrounded_primary_value.value(), WithinAbs(test.unrounded_primary_value.value(), 1e-9));
        s.bought.price = 17.39_gbp / 1_kg;
        const auto fresh = cutting_yield_test(s.bought, s.parts);
        CHECK(there.primary_value == fresh.primary_value);
        CHECK_THAT(there.unrounded_primary_value.value(), WithinAbs(fresh.unrounded_primary_value.value(), 1e-9));
    }
}

TEST_CASE("cooking_loss_test: loses weight and no money") {
    for (std::uint32_t seed = 1; seed <= 100; ++seed) {
        const scenario s = invented(seed);
        const auto cut = cutting_yield_test(s.bought, s.parts);
        std::mt19937 random(seed);
        const mass cooked = to_mass(cut.usable) * (0.6 + 0.004 * static_cast<double>(random() % 100));
        const auto test =
            cooking_loss_test<gbp>(cut, cooked,
                                   {{"roast", 0.9 * cooked, part_role::usable, {}},
                                    {"bones", 0.07 * cooked, part_role::by_product, 0.9_gbp / 1_kg, "stock"},
                                    {"trim", 0.03 * cooked, part_role::loss, {}}});
        micrograms carved;
        for (const auto& line : test.lines) carved += line.weight;
        CHECK(carved == test.cooked);
        CHECK(test.cooked + test.lost_in_cooking == cut.usable);
        CHECK(test.primary_value + test.credit + cut.credit == cut.paid);
    }
}

} // namespace yield_test_laws
