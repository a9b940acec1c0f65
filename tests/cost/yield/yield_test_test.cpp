// The cutting-yield test against worked examples from textbooks and the trade press.
// SPDX-License-Identifier: BSL-1.0
#include <limits>
#include <string>
#include <vector>

#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace yield_test_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

weighed_part<usd> part(const std::string& name, mass weight, part_role role, double usd_per_pound = 0.0) {
    return {name, weight, role, usd_per_pound * 1.0_usd / 1.0_lb};
}

/// In dollars a pound.
double per_pound(unit_price<usd> price) { return (price * pound).value(); }

} // namespace

// Dittmer and Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th edition, chapter 6, exercise on a rib
// of beef: inputs and the outputs to three digits were read in the source; the six digits were computed from its
// inputs.
TEST_CASE("cutting_yield_test: gives the textbook's figures for a rib of beef") {
    const purchase<usd> rib{.weight = 38_lb + 12_oz, .price = 3.19_usd / 1_lb};
    const auto test = cutting_yield_test<usd>(rib, {part("fat", 6_lb + 8_oz, part_role::by_product, 0.0),
                                                    part("bones", 4_lb + 4_oz, part_role::by_product, 0.32),
                                                    part("short ribs", 3_lb + 4_oz, part_role::by_product, 1.49),
                                                    part("chopped beef", 2_lb + 8_oz, part_role::by_product, 1.59),
                                                    part("loss in cutting", 4_oz, part_role::loss),
                                                    part("oven-ready rib", 22_lb, part_role::usable)});
    CHECK(to_text(test.paid) == "123.61 USD");
    CHECK_THAT(rib.cost().value(), WithinRel(123.6125, 1e-14)); // 38.75 × 3.19, before rounding
    // As printed, then the exact ratio of the weights in quarters of a pound. Weights are whole micrograms: a line and the
    // whole, 17.6 kg, are each within one of them (the heaviest takes what rounding misses, at most six).
    struct ratio {
        std::string printed;
        double quarters;
    };
    const std::vector<ratio> ratios{{"16.77 %", 26}, {"10.97 %", 17}, {"8.39 %", 13},
                                    {"6.45 %", 10},  {"0.65 %", 1},   {"56.77 %", 88}};
    REQUIRE(test.lines.size() == ratios.size());
    for (std::size_t i = 0; i < ratios.size(); ++i) {
        CHECK(percent_text(test.lines[i].ratio, 2) == ratios[i].printed);
        CHECK_THAT(test.lines[i].ratio, WithinAbs(ratios[i].quarters / 155.0, 8e-9 / 17.5));
    }
    CHECK(to_text(test.primary_value) == "113.43 USD");

    // As printed in the source, then as exact fractions of the inputs. Weights are whole micrograms of 10 kg and more,
    // so each part is within 5e-11 of its weight.
    const double cost = per_pound(*test.cost_per_usable());
    CHECK(to_text(cost, 3) == "5.156");
    CHECK(to_text(cost / 16.0, 3) == "0.322");
    CHECK(to_text(*test.cost_factor(), 3) == "1.616");
    CHECK(to_text(*test.cost_per_usable(), price_basis::per_ounce, 1) == "0.322 USD/oz");
    CHECK(to_text(cost / 16.0, 6) == "0.322259"); // computed
    CHECK_THAT((*test.cost_per_usable() * ounce).value(), WithinRel(113.435 / 352.0, 1e-9));
    CHECK_THAT(per_pound(*test.cost_per_usable()), WithinRel(113.435 / 22.0, 1e-9));
    CHECK_THAT(*test.cost_factor(), WithinRel(113.435 / 22.0 / 3.19, 1e-9));
    CHECK_THAT(test.unrounded_primary_value.value(), WithinRel(113.435, 1e-9));
    CHECK_THAT(test.costs().portion_cost(10_oz)->value(), WithinRel(1134.35 / 22.0 / 16.0, 1e-9));
    CHECK_THAT(test.yield(), WithinAbs(22.0 / 38.75, 1e-10)); // weights are whole micrograms of 17.6 kg
}

// Ten legs of veal, a textbook problem of the same form: inputs read in the source, outputs computed from them.
TEST_CASE("cutting_yield_test: gives the computed figures for ten legs of veal") {
    const purchase<usd> legs{.weight = 247_lb + 8_oz, .price = 814.28_usd / (247_lb + 8_oz)};
    const auto test = cutting_yield_test<usd>(legs, {part("fat", 41_lb + 8_oz, part_role::by_product, 0.10),
                                                     part("bones", 56_lb + 8_oz, part_role::by_product, 0.38),
                                                     part("shanks", 19_lb + 12_oz, part_role::by_product, 1.49),
                                                     part("trimmings", 47_lb + 4_oz, part_role::by_product, 1.89),
                                                     part("loss", 2_lb + 8_oz, part_role::loss),
                                                     part("usable", 80_lb, part_role::usable)});
    CHECK(to_text(test.paid) == "814.28 USD");
    CHECK(to_text(test.primary_value) == "669.93 USD");
    // As computed from the inputs to six decimals, then as exact fractions.
    CHECK(to_text(per_pound(*test.cost_per_usable()), 6) == "8.374125");
    CHECK(to_text(test.costs().portion_cost(5_oz)->value(), 6) == "2.616914");
    CHECK(to_text(*test.cost_factor(), 6) == "2.545311");
    CHECK_THAT(legs.cost().value(), WithinRel(814.28, 1e-14));
    CHECK_THAT(test.unrounded_primary_value.value(), WithinRel(669.93, 1e-9));
    CHECK_THAT(per_pound(*test.cost_per_usable()), WithinRel(8.374125, 1e-9));           // 669.93 / 80
    CHECK_THAT(test.costs().portion_cost(5_oz)->value(), WithinRel(2.6169140625, 1e-9)); // × 5/16
    CHECK_THAT(*test.cost_factor(), WithinRel(669.93 / 80.0 * 247.5 / 814.28, 1e-9));
    // 235 portions of 5 oz as bought: quantity = portions × size / yield.
    const mass needed = *test.costs().quantity_for(235, 5_oz);
    CHECK(to_text(needed / pound, 4) == "227.1973");
    CHECK_THAT(needed / pound, WithinRel(235.0 * 5.0 / 16.0 * 247.5 / 80.0, 1e-9));
    // And back: 80 lb usable are 256 portions of 5 oz exactly, though neither is a whole number of micrograms.
    CHECK(test.costs().portions_from(247_lb + 8_oz, 5_oz) == 256);
    CHECK(test.costs().portions_from(needed, 5_oz) == 235);
}

// Tenderloins, trade press, 2013: read in the source.
TEST_CASE("cutting_yield_test: leaves 84 dollars on four pounds of tenderloin") {
    const auto test = cutting_yield_test<usd>({.weight = 12_lb, .price = 10_usd / 1_lb},
                                              {part("trim", 3_lb, part_role::by_product, 2.0),
                                               part("medallions", 5_lb, part_role::by_product, 6.0),
                                               part("centre cut", 4_lb, part_role::usable)});
    CHECK(test.primary_value == amount<usd>{8400});
    CHECK_THAT(per_pound(*test.cost_per_usable()), WithinRel(21.0, 1e-12));
}

// Strip loin, a course page of 2007: the yield of 88.5 % was read in the source, the cost computed from its inputs.
TEST_CASE("cutting_yield_test: gives the cost of a usable kilogram of strip loin") {
    const auto test =
        cutting_yield_test<eur>({.weight = 5.2_kg, .price = 11.95_eur / 1_kg},
                                {{"trim", 0.6_kg, part_role::loss, {}}, {"usable", 4.6_kg, part_role::usable, {}}});
    CHECK(percent_text(test.yield()) == "88.5 %");
    CHECK_THAT(test.yield(), WithinRel(4.6 / 5.2, 1e-14)); // both are whole micrograms
    CHECK(to_text(test.cost_per_usable()->value(), 5) == "13.50870");
    CHECK_THAT(test.cost_per_usable()->value(), WithinRel(5.2 * 11.95 / 4.6, 1e-9));
}

// Dashdorj et al. 2016, J. Anim. Sci. Technol. 58:20, table 1, wet-aged 14 and 21 days, % of start; read in the source.
// Bone is not listed there; what the parts leave open of the whole is entered here as bone.
TEST_CASE("cutting_yield_test: adds up the saleable share of wet-aged strip loins") {
    struct column {
        double steaks, vein_steak, stew, lean_trim, fat_trim, waste, shrink, purge;
        std::string saleable;
    };
    for (const column& aged : {column{54.6, 14.0, 3.2, 0.6, 20.3, 0.7, 1.0, 0.2, "72.4 %"},
                               column{53.6, 14.7, 3.7, 0.9, 14.7, 4.9, 1.2, 0.2, "72.9 %"}}) {
        const auto grams = [](double percent) { return percent * 10.0 * gram; };
        const double bone = 100.0 - aged.steaks - aged.vein_steak - aged.stew - aged.lean_trim - aged.fat_trim -
                            aged.waste - aged.shrink - aged.purge;
        const auto test = cutting_yield_test<eur>({.weight = 1_kg, .price = 10_eur / 1_kg},
                                                  {{"strip steaks", grams(aged.steaks), part_role::usable, {}},
                                                   {"vein steak", grams(aged.vein_steak), part_role::usable, {}},
                                                   {"stew", grams(aged.stew), part_role::usable, {}},
                                                   {"lean trim", grams(aged.lean_trim), part_role::usable, {}},
                                                   {"fat trim", grams(aged.fat_trim), part_role::loss, {}},
                                                   {"waste", grams(aged.waste), part_role::loss, {}},
                                                   {"cooler shrink", grams(aged.shrink), part_role::loss, {}},
                                                   {"purge", grams(aged.purge), part_role::loss, {}},
                                                   {"bone", grams(bone), part_role::loss, {}}});
        CHECK(percent_text(test.yield()) == aged.saleable);
        CHECK_THAT(test.yield(),
                   WithinAbs((aged.steaks + aged.vein_steak + aged.stew + aged.lean_trim) / 100.0, 1e-14));
        const std::vector<double> published{aged.steaks,    aged.vein_steak, aged.stew,
                                            aged.lean_trim, aged.fat_trim,   aged.waste,
                                            aged.shrink,    aged.purge,      bone};
        REQUIRE(test.lines.size() == published.size());
        for (std::size_t i = 0; i < published.size(); ++i) {
            INFO(test.lines[i].part.name);
            CHECK(percent_text(test.lines[i].ratio) == to_text(published[i], 1) + " %");
            CHECK_THAT(test.lines[i].ratio, WithinAbs(published[i] / 100.0, 1e-14)); // tenths of a percent of 10^9
        }
    }
}

TEST_CASE("cutting_yield_test: says by how much the parts miss the whole") {
    const purchase<usd> loin{.weight = 5_kg, .price = 10_usd / 1_kg};
    const std::vector<weighed_part<usd>> parts{part("steaks", 3.9_kg, part_role::usable),
                                               part("trim", 1.06_kg, part_role::loss)};
    CHECK_THROWS_WITH(cutting_yield_test(loin, parts), ContainsSubstring("4960 g") && ContainsSubstring("5000 g") &&
                                                           ContainsSubstring("miss it by 40 g"));
    const auto test = cutting_yield_test(loin, parts, 50_g);
    REQUIRE(test.lines.size() == 3);
    CHECK(test.lines.back().part.name == "unaccounted for");
    micrograms sum;
    for (const auto& line : test.lines) sum += line.weight;
    CHECK(sum == test.whole);
    // Two scales may differ: a steak that is all of the purchase and 3 g heavier than the invoice still has its rates.
    const auto heavier = cutting_yield_test<usd>(loin, {part("steaks", 5.003_kg, part_role::usable)}, 5_g);
    CHECK_THAT(heavier.yield(), WithinRel(5.003 / 5.0, 1e-14));
    CHECK_THAT(heavier.cost_per_usable()->value(), WithinRel(50.0 / 5.003, 1e-14));
}

TEST_CASE("cutting_yield_test: gives what rounding to the microgram misses to the heaviest part") {
    // Sevenths of a pound are no whole micrograms.
    const auto test =
        cutting_yield_test<usd>({.weight = 1_lb, .price = 7_usd / 1_lb},
                                {part("steaks", 5_lb / 7.0, part_role::usable),
                                 part("trim", 1_lb / 7.0, part_role::loss), part("fat", 1_lb / 7.0, part_role::loss)});
    REQUIRE(test.lines.size() == 3);
    CHECK(test.lines[0].weight + test.lines[1].weight + test.lines[2].weight == test.whole);
    CHECK(test.lines[1].weight == to_micrograms(1_lb / 7.0));
}

TEST_CASE("cutting_yield_test: names the field of a bad input") {
    const purchase<usd> loin{.weight = 5_kg, .price = 10_usd / 1_kg};
    const auto whole = part("steaks", 5_kg, part_role::usable);
    const double nan = std::numeric_limits<double>::quiet_NaN(), infinity = std::numeric_limits<double>::infinity();
    CHECK_THROWS_WITH(cutting_yield_test<usd>(loin, {}), StartsWith("parts: got none"));
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 0_kg, .price = loin.price}, {whole}),
                      StartsWith("purchase.weight"));
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = nan * 1_kg, .price = loin.price}, {whole}),
                      StartsWith("purchase.weight: got nan"));
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 5_kg, .price = infinity * loin.price}, {whole}),
                      StartsWith("purchase.price: got inf"));
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 5_kg, .price = -1.0 * loin.price}, {whole}),
                      StartsWith("purchase.price: got -10 USD/kg"));
    CHECK_THROWS_WITH(cutting_yield_test<usd>(loin, {part("trim", -1_g, part_role::loss)}),
                      StartsWith("trim: weight: got -1 g"));
    auto odd = whole;
    odd.value = nan * loin.price;
    CHECK_THROWS_WITH(cutting_yield_test<usd>(loin, {odd}), StartsWith("steaks: value: got nan"));
    CHECK_THROWS_AS(cutting_yield_test<usd>({.weight = 5_kg, .price = 1e20_usd / 1_kg}, {whole}), invalid_input);
}

TEST_CASE("yield_test: has no cost per usable weight when nothing is usable or paid") {
    const auto nothing =
        cutting_yield_test<usd>({.weight = 1_kg, .price = 5_usd / 1_kg}, {part("waste", 1_kg, part_role::loss)});
    CHECK_FALSE(nothing.cost_per_usable().has_value());
    CHECK_FALSE(nothing.cost_factor().has_value());
    CHECK(nothing.primary_value == nothing.paid);
    const auto gift =
        cutting_yield_test<usd>({.weight = 1_kg, .price = 0_usd / 1_kg}, {part("steak", 1_kg, part_role::usable)});
    CHECK(gift.cost_per_usable()->value() == 0.0);
    CHECK_FALSE(gift.cost_factor().has_value());
}

TEST_CASE("cutting_yield_test: refuses credits that add up beyond what a bill can hold") {
    const auto dear = [](const char* name) {
        return weighed_part<usd>{name, 1_kg, part_role::by_product, 5e16_usd / 1_kg};
    };
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 2_kg, .price = 10_usd / 1_kg}, {dear("gold"), dear("silver")}),
                      StartsWith("amount of USD"));
}

TEST_CASE("cutting_yield_test: keeps every unit of a purchase as dear as a bill can hold") {
    // An absurd price: 3 t at 10^12 a kilogram is 3·10^17 minor units, which 64 bits hold and a double does not
    // exactly.
    const purchase<usd> dear{.weight = 3000_kg, .price = 1e12_usd / 1_kg};
    const auto test = cutting_yield_test<usd>(dear, {{"steak", 2000_kg, part_role::usable, {}},
                                                     {"trim", 999_kg, part_role::by_product, 0.37_usd / 1_kg},
                                                     {"purge", 1_kg, part_role::loss, {}}});
    CHECK(test.paid == amount<usd>{300'000'000'000'000'000});
    CHECK(test.credit == amount<usd>{36963});
    CHECK(test.primary_value + test.credit == test.paid);
    // A hundred times as dear is beyond them, and says so.
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 3000_kg, .price = 1e14_usd / 1_kg},
                                              {{"steak", 3000_kg, part_role::usable, {}}}),
                      StartsWith("cost of the purchase: got 3e+17 USD"));
}

TEST_CASE("cutting_yield_test: refuses a purchase that is lighter than a microgram") {
    CHECK_THROWS_WITH(cutting_yield_test<usd>({.weight = 1e-11_kg, .price = 1_usd / 1_kg},
                                              {{"steak", 1e-11_kg, part_role::usable, {}}}),
                      StartsWith("purchase.weight") && ContainsSubstring("at least a microgram"));
}

TEST_CASE("repriced: is the same test at another price") {
    const auto test_at = [](double price) {
        return cutting_yield_test<usd>({.weight = 12_lb, .price = price * 1_usd / 1_lb},
                                       {part("trim", 3_lb, part_role::by_product, 2.0),
                                        part("medallions", 5_lb, part_role::by_product, 6.0),
                                        part("centre cut", 4_lb, part_role::usable)});
    };
    // Computed: at 11 USD/lb the four pounds carry 132 - 36 = 96 USD.
    const auto moved = repriced<usd>(test_at(10.0), 11_usd / 1_lb);
    const auto fresh = test_at(11.0);
    CHECK(moved.primary_value == amount<usd>{9600});
    CHECK(moved.paid == fresh.paid);
    CHECK(moved.primary_value == fresh.primary_value);
    CHECK_THAT(per_pound(*moved.cost_per_usable()), WithinRel(24.0, 1e-12));
    // The cost factor, 2.1, lets the by-products rise too: 23.10 USD/lb.
    CHECK_THAT(per_pound(*test_at(10.0).costs().per_weight_at(11_usd / 1_lb)), WithinRel(23.1, 1e-12));
    CHECK_THROWS_WITH(repriced<usd>(fresh, -1_usd / 1_kg), StartsWith("price: got -1 USD/kg"));
}

} // namespace yield_test_test
