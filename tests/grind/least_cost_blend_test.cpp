// The least-cost blend: published problems, limits, edges, and what is said where there is none.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include <tranche/grind/fat_square.hpp>
#include <tranche/grind/least_cost_blend.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace least_cost_blend_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

grind_source<usd> source(const char* name, double percent, double usd_per_pound, quantity_range<mass> supply = {}) {
    return {name, percent / 100.0, usd_per_pound * 1_usd / 1_lb, supply};
}

/// Georgia FFA, Senior Meats Evaluation, 2016, read in the source: % fat and price a pound of five sources.
std::vector<grind_source<usd>> five_sources() {
    return {source("50", 50, 1.89), source("60", 60, 1.69), source("70", 70, 1.56), source("20", 20, 2.45),
            source("23", 23, 1.78)};
}

micrograms sum_of(const blend<usd>& b) {
    micrograms sum;
    for (const auto& line : b.lines) sum += line.weight;
    return sum;
}

} // namespace

TEST_CASE("least_cost_blend: finds the published cheapest of six pairs") {
    // 500 lb at 28 %: published 1.76 a pound of 53.19 lb at 70 % and 446.81 lb at 23 %.
    const auto b =
        least_cost_blend<usd>(five_sources(), {.batch = 500_lb, .fat = fat_of_exactly(0.28)}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.why_not().empty());
    CHECK(to_text(to_mass(b.lines[2].weight), hundredths_of_pound) == "53.19 lb");
    CHECK(to_text(to_mass(b.lines[4].weight), hundredths_of_pound) == "446.81 lb");
    for (const std::size_t other : {0U, 1U, 3U}) CHECK(b.lines[other].weight.count == 0);
    CHECK(to_text(b.cost_by_weight(), price_basis::per_pound) == "1.76 USD/lb");
    CHECK_THAT((b.cost_by_weight() * pound).value(), WithinRel((5 * 1.56 + 42 * 1.78) / 47, 1e-11)); // whole micrograms
    CHECK(sum_of(b) == to_micrograms(500_lb));
    CHECK(b.fat <= 0.28);
    CHECK_THAT(b.fat, WithinAbs(0.28, 1e-11)); // a microgram of 227 kg
    // 53.19 lb × 1.56 and 446.81 lb × 1.78, of the exact masses, to the cent by hand: 82.98 and 795.32.
    CHECK(b.lines[2].cost == amount<usd>{8298});
    CHECK(b.lines[4].cost == amount<usd>{79532});
    CHECK(b.cost == amount<usd>{87830});
    CHECK_THAT((b.shadow_price_of_fat * pound).value(), WithinRel((1.78 - 1.56) / 0.47, 1e-12));
    CHECK_THAT((b.worth_of(0.70) * pound).value(), WithinRel(1.56, 1e-12));
    CHECK_THAT((b.worth_of(0.23) * pound).value(), WithinRel(1.78, 1e-12));
    CHECK((b.worth_of(0.20) * pound).value() < 2.45); // left out because it is dearer than it is worth
}

TEST_CASE("blend: names what it cannot answer") {
    const auto made =
        least_cost_blend<usd>(five_sources(), {.batch = 500_lb, .fat = fat_of_exactly(0.28)}, us_ground_beef_limit());
    CHECK_THROWS_WITH(made.worth_of(std::numeric_limits<double>::quiet_NaN()), StartsWith("meat_fat: got nan"));
    CHECK_THROWS_WITH(made.worth_of(1.5), StartsWith("meat_fat: got 1.5"));
    CHECK_THROWS_WITH(blend<usd>{}.cost_by_weight(), StartsWith("batch: got 0 g"));
    const auto impossible =
        least_cost_blend<usd>(five_sources(), {.batch = 500_lb, .fat = fat_of_exactly(0.10)}, us_ground_beef_limit());
    REQUIRE_FALSE(impossible.made());
    CHECK_THROWS_WITH(impossible.cost_by_weight(), StartsWith("blend: got one that is not made"));
    CHECK_THROWS_WITH(impossible.worth_of(0.2), StartsWith("blend: got one that is not made"));
}

TEST_CASE("least_cost_blend: gives each published pair its square's masses") {
    const auto all = five_sources();
    for (const std::size_t fat : {0U, 1U, 2U})
        for (const std::size_t lean : {3U, 4U}) {
            const auto b = least_cost_blend<usd>({all[fat], all[lean]}, {.batch = 500_lb, .fat = fat_of_exactly(0.28)},
                                                 us_ground_beef_limit());
            REQUIRE(b.made());
            const detail::square_masses square = square_for(all[fat].fat, all[lean].fat, 0.28).masses(500_lb);
            CHECK(b.lines[0].weight == square.first);
            CHECK(b.lines[1].weight == square.second);
        }
}

TEST_CASE("least_cost_blend: mixes 10 % and 25 % to the published price") {
    // Computed from the problem's inputs: 0.856667 a pound at 20 %.
    const auto b = least_cost_blend<usd>({source("lean", 10, 0.99), source("fat", 25, 0.79)},
                                         {.batch = 1000_lb, .fat = fat_at_most(0.20)}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(to_text(b.cost_by_weight(), price_basis::per_pound, 4) == "0.856667 USD/lb");
    CHECK(b.cost == amount<usd>{85667});
    CHECK_THAT(*b.leanest, WithinAbs(0.10, 1e-15));
    CHECK_THAT(*b.fattest, WithinAbs(0.25, 1e-15));
}

TEST_CASE("least_cost_blend: takes the cheapest meat as long as the fat does not bind") {
    const auto b =
        least_cost_blend<usd>({source("dear", 10, 5), source("cheap", 15, 3, {0_kg, 4_kg}), source("middling", 20, 4)},
                              {.batch = 10_kg, .fat = fat_at_most(0.30)}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.lines[1].weight == to_micrograms(4_kg));
    CHECK(b.lines[2].weight == to_micrograms(6_kg));
    CHECK(b.shadow_price_of_fat.value() == 0.0);
    CHECK_THAT((b.price_without_fat * pound).value(), WithinRel(4.0, 1e-14));
    CHECK_THAT(b.fat, WithinAbs(0.18, 1e-15)); // (4 × 15 + 6 × 20) / 10
}

TEST_CASE("least_cost_blend: makes a blend fatter where a least fat is asked for") {
    const auto b = least_cost_blend<usd>({source("lean", 10, 1), source("fat", 50, 3)},
                                         {.batch = 8_kg, .fat = {0.20, 0.25}}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.lines[0].weight == to_micrograms(6_kg));
    CHECK(b.lines[1].weight == to_micrograms(2_kg));
    CHECK((b.shadow_price_of_fat * pound).value() == Approx(-5.0)); // 2 dollars for 40 points less of fat saved
}

TEST_CASE("least_cost_blend: never goes over the limit of the law, not by a microgram") {
    // 30 % of fat in ground beef: 9 CFR 319.15(a), quoted.
    const std::vector<grind_source<usd>> sources{source("lean", 7, 5), source("fat", 71, 0.5)};
    const auto b = least_cost_blend<usd>(sources, {.batch = 1_lb, .fat = fat_at_most(0.40)}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.most_fat() == 0.30);
    const std::int64_t fat = 7 * b.lines[0].weight.count + 71 * b.lines[1].weight.count; // in hundredths
    CHECK(fat <= 30 * b.batch.count);
    CHECK(fat + 64 > 30 * b.batch.count);
    const auto refused =
        least_cost_blend<usd>(sources, {.batch = 1_lb, .fat = fat_of_exactly(0.35)}, us_ground_beef_limit());
    CHECK(refused.outcome == blend_outcome::over_the_limit);
    REQUIRE(refused.why_not().size() == 1);
    CHECK(refused.why_not()[0] == "At least 35.00 % fat is asked for, over the limit of 30.00 % (9 CFR 319.15(a)).");
    CHECK(refused.lines.empty());
    CHECK(least_cost_blend<usd>(sources, {.batch = 1_lb, .fat = fat_of_exactly(0.35)}, no_legal_fat_limit()).made());
    CHECK(least_cost_blend<usd>({source("at the limit", 30, 1)}, {.batch = 1_lb}, us_ground_beef_limit()).made());
}

TEST_CASE("least_cost_blend: says how lean the supplies get and how much more would do") {
    // 1 kg of lean at 10 % and 9 kg at 40 %: 37 %. At most 25 % takes 5 kg of lean in 10, so 4 more.
    const auto b = least_cost_blend<usd>(
        {source("lean", 10, 5, {0_kg, 1_kg}), source("fat", 40, 1), source("leaner", 4, 9, {0_kg, 0_kg})},
        {.batch = 10_kg, .fat = fat_at_most(0.25)}, us_ground_beef_limit());
    CHECK(b.outcome == blend_outcome::too_fat);
    CHECK_THAT(*b.leanest, WithinAbs(0.37, 1e-12));
    REQUIRE(b.remedies.size() == 2);
    CHECK(b.remedies[0].source == 0);
    CHECK(b.remedies[0].more == to_micrograms(4_kg));
    CHECK_THAT(b.remedies[0].cost.value(), WithinRel(4 * 5 / 0.45359237, 1e-12));
    CHECK(b.remedies[1].source == 2);
    CHECK_THAT(to_mass(b.remedies[1].more).value(), WithinAbs(1.2 / 0.36, 1e-9)); // 1.2 kg of fat to take out
    CHECK(b.why_not() ==
          std::vector<std::string>{
              "The leanest blend of 10000 g within the supplies is 37.00 % fat, over the 25.00 % asked for.",
              "4000 g more of lean would do.", "3334 g more of leaner would do."});
}

TEST_CASE("blend: rounds what would do up to the units that it is told in") {
    const auto b = least_cost_blend<usd>({source("lean", 10, 5, {0_kg, 1_kg})}, {.batch = 1_kg + 1_lb + 0.1_oz},
                                         us_ground_beef_limit());
    REQUIRE(b.outcome == blend_outcome::too_little);
    CHECK(b.why_not(pounds_and_quarter_ounces)[1] == "1 lb 1/4 oz more of lean would do.");
    CHECK(b.why_not(hundredths_of_pound)[1] == "1.01 lb more of lean would do.");
    CHECK(b.why_not()[1] == "457 g more of lean would do."); // 456.43
}

TEST_CASE("least_cost_blend: names the law where the law is stricter than the wish") {
    const auto b =
        least_cost_blend<usd>({source("fat", 40, 1)}, {.batch = 1_kg, .fat = fat_at_most(0.5)}, us_ground_beef_limit());
    CHECK(b.outcome == blend_outcome::too_fat);
    REQUIRE(b.why_not().size() == 2);
    CHECK_THAT(b.why_not()[0], ContainsSubstring("over the 30.00 % that the law allows (9 CFR 319.15(a))."));
    CHECK(b.why_not()[1] == "No supply of any one of these sources would do by itself.");
}

TEST_CASE("least_cost_blend: says what is missing from a batch, or too much for it") {
    const auto little = least_cost_blend<usd>({source("lean", 10, 5, {0_kg, 1_kg}), source("fat", 40, 1, {0_kg, 2_kg})},
                                              {.batch = 4_kg, .fat = fat_at_most(0.25)}, us_ground_beef_limit());
    CHECK(little.outcome == blend_outcome::too_little);
    CHECK(little.missing == to_micrograms(1_kg));
    REQUIRE(little.remedies.size() == 1); // more of the fat one would not be lean enough
    CHECK(little.why_not() == std::vector<std::string>{"The supplies are 1000 g short of the batch of 4000 g.",
                                                       "1000 g more of lean would do."});
    const auto much =
        least_cost_blend<usd>({source("lean", 10, 5, {3_kg, 5_kg})}, {.batch = 1_kg}, us_ground_beef_limit());
    CHECK(much.outcome == blend_outcome::too_much);
    CHECK(much.why_not()[0] == "What has to go in is 2000 g more than the batch of 1000 g.");
    const auto lean = least_cost_blend<usd>({source("lean", 10, 5, {3_kg, 5_kg}), source("fat", 50, 1, {0_kg, 1_kg})},
                                            {.batch = 5_kg, .fat = fat_of_exactly(0.26)}, us_ground_beef_limit());
    CHECK(lean.outcome == blend_outcome::too_lean);
    CHECK_THAT(*lean.fattest, WithinAbs(0.18, 1e-12));
    CHECK(lean.remedies.size() == 1);
    CHECK(lean.remedies[0].source == 1);
    CHECK(lean.remedies[0].more == to_micrograms(1_kg)); // 2 of 5 kg at 50 % and 3 at 10 %: 26 %
}

TEST_CASE("least_cost_blend: makes as much as the supplies allow where no batch is asked for") {
    // 6 kg at 10 % carry (25 - 10) × 6 = 90 points of fat: 6 kg at 40 %.
    const auto b = least_cost_blend<usd>({source("lean", 10, 5, {0_kg, 6_kg}), source("fat", 40, 1, {0_kg, 9_kg})},
                                         {.fat = fat_at_most(0.25)}, us_ground_beef_limit());
    REQUIRE(b.made());
    CHECK(b.batch == to_micrograms(12_kg));
    CHECK(b.lines[1].weight == to_micrograms(6_kg));
    const auto all = least_cost_blend<usd>({source("a", 10, 5, {0_kg, 6_kg}), source("b", 20, 1, {0_kg, 9_kg})}, {},
                                           us_ground_beef_limit());
    CHECK(all.batch == to_micrograms(15_kg));
    const auto fatter = least_cost_blend<usd>({source("a", 10, 5, {0_kg, 6_kg}), source("b", 40, 1, {0_kg, 1_kg})},
                                              {.fat = fat_of_exactly(0.25)}, us_ground_beef_limit());
    CHECK(fatter.batch == to_micrograms(2_kg));
}

TEST_CASE("least_cost_blend: explains an open batch that cannot be") {
    const auto nothing = least_cost_blend<usd>({source("lean", 10, 5, {0_kg, 0_kg})}, {}, us_ground_beef_limit());
    CHECK(nothing.outcome == blend_outcome::too_little);
    CHECK(nothing.why_not() == std::vector<std::string>{"There is nothing to blend."});
    const auto fat = least_cost_blend<usd>({source("fat", 50, 1, {2_kg, 3_kg}), source("lean", 10, 5, {0_kg, 1_kg})},
                                           {.fat = fat_at_most(0.2)}, us_ground_beef_limit());
    CHECK(fat.outcome == blend_outcome::too_fat);
    CHECK_THAT(*fat.leanest, WithinAbs(1.1 / 3, 1e-12)); // 2 kg that have to go in, and all of the lean
    REQUIRE(fat.remedies.size() == 1);
    CHECK(fat.remedies[0].more == to_micrograms(5_kg)); // 60 points over, of which the first kilogram takes 10
    const auto unused = least_cost_blend<usd>({source("fat", 50, 1, {0_kg, 3_kg}), source("lean", 10, 5, {0_kg, 0_kg})},
                                              {.fat = fat_at_most(0.2)}, us_ground_beef_limit());
    CHECK(unused.outcome == blend_outcome::too_fat);
    CHECK(*unused.leanest == 0.5);
    REQUIRE(unused.remedies.size() == 1);
    CHECK(unused.remedies[0].more == to_micrograms(9_kg)); // for all 3 kg
}

TEST_CASE("least_cost_blend: holds at the edges of fat, price and supply") {
    const legal_fat_limit none = no_legal_fat_limit();
    const auto pure = least_cost_blend<usd>({source("water lean", 0, 5), source("lard", 100, 1)},
                                            {.batch = 1_kg, .fat = fat_of_exactly(0.5)}, none);
    REQUIRE(pure.made());
    CHECK(pure.lines[0].weight == to_micrograms(500_g));
    const auto all_fat =
        least_cost_blend<usd>({source("lard", 100, 1)}, {.batch = 1_kg, .fat = fat_of_exactly(1.0)}, none);
    CHECK(all_fat.fat == 1.0);
    const auto no_fat =
        least_cost_blend<usd>({source("lean", 0, 1)}, {.batch = 1_kg, .fat = fat_of_exactly(0.0)}, none);
    CHECK(no_fat.fat == 0.0);
    // Equally fat sources: the cheaper one, and among equals the earlier one.
    const auto equal = least_cost_blend<usd>({source("a", 20, 3), source("b", 20, 2), source("c", 20, 2)},
                                             {.batch = 1_kg, .fat = fat_of_exactly(0.2)}, none);
    REQUIRE(equal.made());
    CHECK(equal.lines[1].weight == equal.batch);
    CHECK(
        least_cost_blend<usd>({source("a", 20, 3), source("b", 20, 2)}, {.batch = 1_kg, .fat = fat_at_most(0.1)}, none)
            .outcome == blend_outcome::too_fat);
    // What it would cost to throw away is worth taking in.
    const auto refuse = least_cost_blend<usd>({source("lean", 10, 5), source("refuse", 60, -0.1, {0_kg, 100_g})},
                                              {.batch = 1_kg, .fat = fat_at_most(0.3)}, none);
    CHECK(refuse.lines[1].weight == to_micrograms(100_g));
    const auto free = least_cost_blend<usd>({source("gift", 10, 0)}, {.batch = 1_kg}, none);
    CHECK(free.cost == amount<usd>{0});
    const auto micro = least_cost_blend<usd>({source("a", 10, 1), source("b", 40, 2)},
                                             {.batch = to_mass({1}), .fat = fat_at_most(0.25)}, none);
    CHECK(micro.lines[0].weight.count == 1);
}

TEST_CASE("least_cost_blend: makes the batch that the supplies just fill, in whatever unit they are written") {
    // 0.1 oz is 2834952.3125 micrograms, and three of them to whole ones 2 while 0.3 oz is 8504857.
    for (const double part : {0.1, 0.2, 0.3, 0.5, 0.7, 1.1, 2.3, 16.1, 80.3})
        for (int n = 1; n <= 12; ++n) {
            CAPTURE(part, n);
            std::vector<grind_source<usd>> up_to, all_of;
            for (int i = 0; i < n; ++i) {
                const std::string name = std::to_string(i);
                up_to.push_back(source(name.c_str(), 10 + i, 4 + i, {0_oz, part * 1_oz}));
                all_of.push_back(source(name.c_str(), 10 + i, 4 + i, {part * 1_oz, part * 1_oz}));
            }
            const mass batch = n * part / 16.0 * 1_lb;
            for (const auto& sources : {up_to, all_of}) {
                const auto b = least_cost_blend<usd>(sources, {.batch = batch}, no_legal_fat_limit());
                REQUIRE(b.made());
                CHECK(sum_of(b) == to_micrograms(batch));
                for (const auto& line : b.lines) // no farther beyond a supply than rounding takes it
                    CHECK(std::abs(to_mass(line.weight) / (part * 1_oz) - 1.0) < 1e-9 * kilogram / (part * 1_oz) * n);
            }
            // A microgram for each source is the most that rounding may be taken for.
            const mass more = batch + (n + 1.0) * 1e-9 * kilogram;
            CHECK(least_cost_blend<usd>(up_to, {.batch = more}, no_legal_fat_limit()).outcome ==
                  blend_outcome::too_little);
        }
}

TEST_CASE("least_cost_blend: says what is in the way with as many decimals as it takes to see it") {
    const auto why = [](double fat, const fat_range& wanted, const legal_fat_limit& limit) {
        return least_cost_blend<usd>({source("meat", fat, 5)}, {.batch = 10_kg, .fat = wanted}, limit)
            .why_not(whole_grams)[0];
    };
    const legal_fat_limit none = no_legal_fat_limit();
    CHECK(why(20.0004, fat_at_most(0.2), none) ==
          "The leanest blend of 10000 g within the supplies is 20.0004 % fat, over the 20.0000 % asked for.");
    CHECK(why(19.999, {0.2, 0.3}, none) ==
          "The fattest blend of 10000 g within the supplies is 19.999 % fat, under the 20.000 % asked for.");
    CHECK(why(20, {0.30001, 0.4}, us_ground_beef_limit()) ==
          "At least 30.001 % fat is asked for, over the limit of 30.000 % (9 CFR 319.15(a)).");
    for (double beyond = 1e-3; beyond > 2e-9; beyond /= 3.0) {
        const auto b = least_cost_blend<usd>({source("meat", 100.0 * (0.2 + beyond), 5)},
                                             {.batch = 10_kg, .fat = fat_at_most(0.2)}, none);
        REQUIRE_FALSE(b.made());
        const int digits = detail::digits_apart(*b.leanest, b.most_fat(), 1);
        CHECK(percent_text(*b.leanest, digits) != percent_text(b.most_fat(), digits));
    }
    CHECK_THROWS_WITH(square_for(0.1, 0.2, 0.200001),
                      StartsWith("target fat: got 20.0001 %, expected between 10.0000 % and 20.0000 %"));
}

TEST_CASE("least_cost_blend: names the field of a bad input") {
    std::vector<grind_source<usd>> many;
    for (std::size_t i = 0; i < most_sources; ++i)
        many.push_back(source(std::to_string(i).c_str(), double(i % 50), 4 + double(i % 7), {0_kg, 1_kg}));
    CHECK(least_cost_blend<usd>(many, {.batch = 500_kg, .fat = fat_at_most(0.15)}, no_legal_fat_limit()).made());
    many.push_back(source("one more", 10, 5));
    CHECK_THROWS_WITH(least_cost_blend<usd>(many, {.batch = 1_kg}, no_legal_fat_limit()),
                      StartsWith("sources: got 1001, expected at most 1000"));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const legal_fat_limit none = no_legal_fat_limit();
    const std::vector<grind_source<usd>> one{source("lean", 10, 5)};
    CHECK_THROWS_WITH(least_cost_blend<usd>({}, {.batch = 1_kg}, none), StartsWith("sources: got none"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 0_kg}, none), StartsWith("batch: got 0 g"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = nan * 1_kg}, none), StartsWith("batch: got nan"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 1e10_kg}, none), StartsWith("batch"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 1_kg, .fat = fat_at_most(1.5)}, none),
                      StartsWith("fat.max: got 1.5"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 1_kg, .fat = {0.3, 0.2}}, none),
                      StartsWith("fat.max: got 0.2"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 1_kg}, {.most = nan, .law = "x"}),
                      StartsWith("limit.most: got nan"));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {.batch = 1_kg}, {.most = 0.3}), StartsWith("limit.law: got \"\""));
    CHECK_THROWS_WITH(least_cost_blend<usd>(one, {}, none), StartsWith("lean: supply.max: got no upper end"));
    CHECK_THROWS_WITH(least_cost_blend<usd>({source("gold", 10, 1e18)}, {.batch = 1_kg}, none),
                      StartsWith("gold: cost"));
    CHECK_THROWS_WITH(least_cost_blend<usd>({source("gold", 10, 3e16, {1_kg, 1_kg}), source("silver", 10, 3e16)},
                                            {.batch = 2_kg}, none),
                      StartsWith("amount of USD"));
    CHECK_THROWS_WITH(
        least_cost_blend<usd>({source("a", 10, 1, {0_kg, 9e9_kg}), source("b", 10, 1, {0_kg, 9e9_kg})}, {}, none),
        StartsWith("supply.max of all sources"));
    CHECK_THROWS_WITH(least_cost_blend<usd>({source("a", 10, 1, {0_kg, 1e11_kg})}, {.batch = 1_kg}, none),
                      StartsWith("a: supply.max"));
}

} // namespace least_cost_blend_test
