// Laws of blends over many invented instances.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

#include <tranche/grind/trim_in_blend.hpp>

#include "grind/blend_instances.hpp"
#include "support/catch.hpp"

namespace least_cost_blend_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

blend<usd> blended(const small_blend& b, rounding how = rounding::half_even) {
    return least_cost_blend<usd>(sources_of(b), request_of(b), no_legal_fat_limit(), how);
}

/// Two blends whose masses differ by a microgram or two from a fraction of one, at prices up to 15 dollars a kilogram.
constexpr double rounding_of_masses = 4e-9 * 15.0;

} // namespace

TEST_CASE("least_cost_blend: adds up to the batch exactly, and its fat to the weighted mean") {
    std::mt19937 random(11);
    std::size_t made = 0;
    for (std::uint32_t round = 0; round < blends(1500); ++round) {
        const bool open = round % 3 == 0;
        const small_blend instance = random_blend(random, 9, open);
        CAPTURE(round);
        const blend<usd> b = blended(instance);
        if (!b.made()) {
            CHECK_FALSE(b.why_not().empty());
            CHECK(b.lines.empty());
            continue;
        }
        ++made;
        micrograms sum;
        amount<usd> cost;
        std::int64_t fat = 0; // micrograms × thousandths: 8 tonnes are 8e15
        int between = 0;
        for (std::size_t i = 0; i < b.lines.size(); ++i) {
            const small_source& s = instance.sources[i];
            const std::int64_t weight = b.lines[i].weight.count;
            sum.count += weight;
            cost += b.lines[i].cost;
            fat += weight * s.fat;
            CHECK(weight >= s.least * 1'000'000);
            CHECK(weight <= s.most * 1'000'000);
            between += weight > s.least * 1'000'000 && weight < s.most * 1'000'000 ? 1 : 0;
        }
        CHECK(sum == b.batch);
        CHECK(cost == b.cost);
        CHECK(between <= 2);
        // In whole numbers: never over, and under by less than a microgram of pure fat.
        CHECK(fat <= instance.fattest * b.batch.count);
        CHECK(fat + 1000 >= instance.leanest * b.batch.count);
        const double mean = static_cast<double>(fat) / static_cast<double>(b.batch.count) / 1000.0;
        CHECK_THAT(b.fat, WithinAbs(mean, 1e-15));
        CHECK(std::abs(static_cast<double>(b.cost.minor) / 100.0 - b.unrounded_cost.value()) <=
              0.005 * static_cast<double>(b.lines.size()) + 1e-9);
    }
    CHECK(made > 500);
}

TEST_CASE("least_cost_blend: never gets cheaper when a supply shrinks") {
    std::mt19937 random(12);
    std::size_t compared = 0;
    for (std::uint32_t round = 0; round < blends(1200); ++round) {
        small_blend instance = random_blend(random, 7, false);
        CAPTURE(round);
        const blend<usd> before = blended(instance);
        small_source& s = instance.sources[random() % instance.sources.size()];
        s.most = whole(random, s.least, s.most);
        const blend<usd> after = blended(instance);
        if (!after.made()) continue;
        REQUIRE(before.made());
        ++compared;
        CHECK(after.unrounded_cost.value() >= before.unrounded_cost.value() - rounding_of_masses);
    }
    CHECK(compared > 200);
}

TEST_CASE("least_cost_blend: keeps its weights when prices scale, and scales with its masses") {
    std::mt19937 random(13);
    std::size_t made = 0;
    for (std::uint32_t round = 0; round < blends(600); ++round) {
        const small_blend instance = random_blend(random, 7, false);
        CAPTURE(round);
        const blend<usd> once = blended(instance);
        small_blend dearer = instance, larger = instance;
        for (small_source& s : dearer.sources) s.price *= 7;
        larger.batch *= 3;
        for (small_source& s : larger.sources) {
            s.least *= 3;
            s.most *= 3;
        }
        const blend<usd> seven = blended(dearer), thrice = blended(larger);
        REQUIRE(seven.outcome == once.outcome);
        REQUIRE(thrice.outcome == once.outcome);
        if (!once.made()) continue;
        ++made;
        // Prices of seven times as many cents are other doubles: where three sources lie on one line, another blend of
        // the same cost may come out.
        CHECK_THAT(seven.unrounded_cost.value(),
                   WithinAbs(7.0 * once.unrounded_cost.value(),
                             7.0 * rounding_of_masses + 1e-12 * std::abs(seven.unrounded_cost.value())));
        CHECK_THAT(thrice.unrounded_cost.value(),
                   WithinAbs(3.0 * once.unrounded_cost.value(),
                             3.0 * rounding_of_masses + 1e-12 * std::abs(thrice.unrounded_cost.value())));
        std::vector<grind_source<usd>> sources = sources_of(instance);
        for (grind_source<usd>& s : sources) s.price *= 4.0; // exact in binary: nothing at all may change
        const auto four = least_cost_blend<usd>(sources, request_of(instance), no_legal_fat_limit());
        for (std::size_t i = 0; i < once.lines.size(); ++i) CHECK(four.lines[i].weight == once.lines[i].weight);
        CHECK(four.unrounded_cost.value() == 4.0 * once.unrounded_cost.value());
    }
    CHECK(made > 150);
}

TEST_CASE("least_cost_blend: costs the same in whatever order the sources are listed") {
    std::mt19937 random(14);
    for (std::uint32_t round = 0; round < blends(600); ++round) {
        small_blend instance = random_blend(random, 7, round % 2 == 0);
        CAPTURE(round);
        const blend<usd> b = blended(instance);
        std::reverse(instance.sources.begin(), instance.sources.end());
        const blend<usd> reversed = blended(instance);
        REQUIRE(b.outcome == reversed.outcome);
        CHECK(b.remedies.size() == reversed.remedies.size());
        CHECK_THAT(b.unrounded_cost.value(),
                   WithinAbs(reversed.unrounded_cost.value(),
                             rounding_of_masses + 1e-13 * std::abs(b.unrounded_cost.value())));
    }
}

TEST_CASE("least_cost_blend: can be made with any remedy it names, and with a gram less of it cannot") {
    std::mt19937 random(15);
    std::size_t tried = 0;
    for (std::uint32_t round = 0; round < blends(1500); ++round) {
        const bool open = round % 3 == 0;
        const small_blend instance = random_blend(random, 6, open);
        const blend<usd> b = blended(instance);
        CAPTURE(round, static_cast<int>(b.outcome));
        if (b.made()) continue;
        for (const blend_remedy<usd>& remedy : b.remedies) {
            ++tried;
            auto sources = sources_of(instance);
            mass& most = sources[remedy.source].supply.max;
            const mass had = most;
            // The mass is whole micrograms of up to a tonne, which a double holds exactly to 1e-10 of a gram.
            most = had + to_mass(remedy.more);
            CHECK(least_cost_blend<usd>(sources, request_of(instance), no_legal_fat_limit()).made());
            if (remedy.more.count <= 1'000'000 || open) continue;
            most = had + to_mass(remedy.more) - gram;
            CHECK_FALSE(least_cost_blend<usd>(sources, request_of(instance), no_legal_fat_limit()).made());
        }
    }
    CHECK(tried > 300);
}

TEST_CASE("worth_of: bounds what one more kilogram of any source would save") {
    std::mt19937 random(16);
    std::size_t tried = 0, exact = 0;
    for (std::uint32_t round = 0; round < blends(600); ++round) {
        const small_blend instance = random_blend(random, 6, false);
        const blend<usd> b = blended(instance);
        if (!b.made()) continue;
        CAPTURE(round);
        for (std::size_t i = 0; i < instance.sources.size(); ++i) {
            small_blend more = instance;
            more.sources[i].most += 1000;
            const blend<usd> with_more = blended(more);
            REQUIRE(with_more.made());
            ++tried;
            const double saved = b.unrounded_cost.value() - with_more.unrounded_cost.value();
            const double worth = b.worth_of(b.sources[i].fat).value() - b.sources[i].price.value();
            // Dual prices are a subgradient of a convex cost. Costs of up to 1e4 dollars carry 1e-12 of rounding.
            const double slack = rounding_of_masses + 1e-11 * std::abs(b.unrounded_cost.value());
            CHECK(saved <= std::max(worth, 0.0) + slack);
            exact += std::abs(saved - std::max(worth, 0.0)) <= slack ? 1U : 0U;
            const bool in_between = b.lines[i].weight.count > instance.sources[i].least * 1'000'000 &&
                                    b.lines[i].weight.count < instance.sources[i].most * 1'000'000;
            if (in_between) CHECK_THAT(worth, WithinAbs(0.0, 1e-11)); // then it is worth its price
        }
    }
    CHECK(tried > 500);
    CHECK(exact > tried * 9 / 10);
}

} // namespace least_cost_blend_laws
