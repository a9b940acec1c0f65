// SPDX-License-Identifier: BSL-1.0
#include <tranche/cost/savings/make_or_buy.hpp>

#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace savings_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

/// Invented figures, round enough to be worked by hand: 10 kg at 10 EUR/kg, of which 6 kg steaks, 1 kg end steaks, 2 kg
/// of trim at 3 EUR/kg, and 1 kg lost.
struct by_hand {
    yield_test<eur> test =
        cutting_yield_test<eur>({.weight = 10_kg, .price = 10_eur / 1_kg},
                                {{.name = "steak", .weight = 6_kg, .role = part_role::usable},
                                 {.name = "end steak", .weight = 1_kg, .role = part_role::usable},
                                 {.name = "trim", .weight = 2_kg, .role = part_role::by_product, .value = 3_eur / 1_kg},
                                 {.name = "purge", .weight = 1_kg}});
    std::vector<own_portions> own{
        {.name = "steak", .weight = to_micrograms(6_kg), .count = 20, .edible_share = 0.9},
        {.name = "end steak", .weight = to_micrograms(1_kg), .count = 3, .edible_share = 0.8}};
    ready_cut<eur> ready{
        .name = "ready-cut steak", .price = 24_eur / 1_kg, .replaces = {"steak"}, .edible_share = 0.75};
    price_list<eur> prices{.portions = {{"end steak", {.by_weight = 12_eur / 1_kg}}}};
    cutting_costs<eur> costs{.time = 45_min,
                             .pay = 20_eur / 1_h,
                             .packaging = 0.10_eur,
                             .freezing = 0.40_eur / 1_kg,
                             .frozen = 0.5,
                             .knife_wear = 0.80_eur};

    [[nodiscard]] savings<eur> saved() const {
        return make_or_buy(ready, own, test, {.prices = prices, .costs = costs});
    }
};

using lines = std::vector<std::pair<savings_part, std::int64_t>>;

lines cents_of(const std::vector<savings_line<eur>>& given) {
    lines result;
    for (const auto& line : given) result.emplace_back(line.part, line.value.minor);
    return result;
}

} // namespace

TEST_CASE("savings are those worked by hand, line by line") {
    const savings<eur> saved = by_hand().saved();
    // Computed. Wanted of the steaks: 0.9 × 6 = 5.4 kg, for which 5.4 / 0.75 = 7.2 kg of ready-cut meat are needed:
    // 172.80. End steaks 12.00, trim 6.00, paid 100.00; 0.75 h × 20 = 15.00; 23 × 0.10 = 2.30; 3.5 kg × 0.40 = 1.40.
    CHECK(cents_of(saved.lines) == lines{{savings_part::replaced, 17280},
                                         {savings_part::other_portions, 1200},
                                         {savings_part::by_product, 600},
                                         {savings_part::paid, -10000},
                                         {savings_part::labour, -1500},
                                         {savings_part::packaging, -230},
                                         {savings_part::freezing, -140},
                                         {savings_part::knife_wear, -80}});
    CHECK(saved.net_saving.minor == 7130);
    CHECK(saved.net_saving_without_others.minor == 5930);
    CHECK(saved.lines[0].weight == to_micrograms(7.2_kg));
    CHECK(saved.lines[6].weight == to_micrograms(3.5_kg));
    CHECK(saved.own_edible_share == Approx(0.9).epsilon(1e-15));
    CHECK(saved.ready_edible_share == 0.75);
    CHECK(saved.against == "ready-cut steak");
}

TEST_CASE("the gross saving leads to the net saving line by line") {
    const savings<eur> saved = by_hand().saved();
    // Computed. (24 - 10) × 10 kg = 140.00. End steaks 12 - 24; trim 6 - 48; purge -24; 1.2 kg more ready-cut meat for what
    // is wanted, 172.80 - 144.00; then the costs.
    CHECK(saved.gross_saving.minor == 14000);
    CHECK(cents_of(saved.differences) == lines{{savings_part::other_portions, -1200},
                                               {savings_part::by_product, -4200},
                                               {savings_part::loss, -2400},
                                               {savings_part::replaced, 2880},
                                               {savings_part::labour, -1500},
                                               {savings_part::packaging, -230},
                                               {savings_part::freezing, -140},
                                               {savings_part::knife_wear, -80}});
    CHECK(saved.differences[3].weight == to_micrograms(1.2_kg));
    CHECK_THAT(saved.differences[3].text, StartsWith("it takes more ready-cut meat"));
}

TEST_CASE("savings without a stated edible share compare pound for pound") {
    by_hand sample;
    sample.ready.edible_share.reset();
    const savings<eur> saved = sample.saved();
    // Computed: 6 kg × 24 = 144.00, so the net saving is 28.80 less than on the edible basis.
    CHECK(saved.net_saving.minor == 7130 - 2880);
    CHECK(saved.lines[0].weight == to_micrograms(6_kg));
    for (const auto& line : saved.differences) CHECK(line.part != savings_part::replaced);
    sample.ready.edible_share = 0.9; // what the steaks have themselves: the same
    CHECK(sample.saved().net_saving == saved.net_saving);
    sample.ready.edible_share = 1.0; // leaner than they are: 5.4 kg × 24 = 129.60
    CHECK(sample.saved().net_saving.minor == 7130 - 2880 - 1440);
    CHECK_THAT(sample.saved().differences[3].text, StartsWith("it takes less ready-cut meat"));
}

TEST_CASE("savings on medallions break even at the published cost of their pound") {
    // Trade press, 2013: 12 lb of tenderloin at 10 USD/lb, 3 lb trim at 2, 5 lb medallions
    // at 6, and 84 USD left on 4 lb: 21 USD/lb. Buying those 4 lb ready cut at 21 is neither dearer nor cheaper.
    const auto test = cutting_yield_test<usd>(
        {.weight = 12_lb, .price = 10_usd / 1_lb},
        {{.name = "centre", .weight = 4_lb, .role = part_role::usable},
         {.name = "medallions", .weight = 5_lb, .role = part_role::by_product, .value = 6_usd / 1_lb},
         {.name = "trim", .weight = 3_lb, .role = part_role::by_product, .value = 2_usd / 1_lb}});
    const std::vector<own_portions> own{{.name = "centre", .weight = test.usable}};
    const auto saved = make_or_buy<usd>({.name = "ready", .price = 21_usd / 1_lb}, own, test);
    CHECK(saved.net_saving == amount<usd>{0});
    CHECK(saved.gross_saving == amount<usd>{13200}); // computed: 11 × 12
    const auto even = break_even_ready_price(saved.terms);
    REQUIRE(even.at.has_value());
    CHECK_THAT(*even.at * pound / 1_usd, WithinRel(21.0, 1e-14));
}

TEST_CASE("savings on a strip loin break even at the published cost of a kilogram") {
    // Course page, 2007: 5.2 kg bought at 11.95, 4.6 kg usable; computed from it 13.50870 per kg.
    const auto test = cutting_yield_test<usd>(
        {.weight = 5.2_kg, .price = 11.95_usd / 1_kg},
        {{.name = "steaks", .weight = 4.6_kg, .role = part_role::usable}, {.name = "waste", .weight = 0.6_kg}});
    const auto saved =
        make_or_buy<usd>({.name = "ready", .price = 20_usd / 1_kg}, {{.name = "steaks", .weight = test.usable}}, test);
    CHECK_THAT(break_even_ready_price(saved.terms).at.value().value(), WithinAbs(13.50870, 5e-6));
}

TEST_CASE("savings without any portions count what is left against what was paid") {
    const auto test = cutting_yield_test<eur>(
        {.weight = 2_kg, .price = 10_eur / 1_kg},
        {{.name = "grind", .weight = 2_kg, .role = part_role::by_product, .value = 4_eur / 1_kg}});
    const auto saved = make_or_buy<eur>({.name = "ready", .price = 24_eur / 1_kg}, {}, test);
    CHECK(saved.net_saving.minor == -1200);
    CHECK(saved.gross_saving.minor == 2800);
    CHECK_FALSE(break_even_yield(saved.terms).at.has_value());
}

TEST_CASE("savings refuse bad prices, costs, shares and names by name") {
    const auto complaint = [](auto change) {
        by_hand sample;
        change(sample);
        try {
            (void)sample.saved();
        } catch (const invalid_input& error) {
            return std::string(error.what());
        }
        return std::string("no error");
    };
    CHECK_THAT(complaint([](by_hand& s) { s.ready.price = not_a_number * 1_eur / 1_kg; }),
               StartsWith("ready-cut steak: price: got nan EUR/kg"));
    CHECK_THAT(complaint([](by_hand& s) { s.ready.price = -1_eur / 1_kg; }),
               StartsWith("ready-cut steak: price: got -1 EUR/kg"));
    CHECK_THAT(complaint([](by_hand& s) { s.ready.price = infinite * 1_eur / 1_kg; }),
               StartsWith("ready-cut steak: price: got inf"));
    for (const double share : {0.0, -0.1, 1.1, not_a_number})
        CHECK_THAT(complaint([&](by_hand& s) { s.ready.edible_share = share; }),
                   StartsWith("ready-cut steak: edible_share: got"));
    CHECK_THAT(complaint([](by_hand& s) { s.ready.replaces = {"stake"}; }),
               StartsWith("ready-cut steak: replaces: got \"stake\""));
    CHECK_THAT(complaint([](by_hand& s) { s.own[0].edible_share = not_a_number; }),
               StartsWith("steak: edible_share: got nan"));
    CHECK_THAT(complaint([](by_hand& s) { s.own[0].weight = to_micrograms(5_kg); }),
               StartsWith("portions: got 6000 g in all, expected the usable weight of the test, 7000 g"));
    CHECK_THAT(complaint([](by_hand& s) { s.own[0].weight = {-1}; }), StartsWith("steak: weight"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.time = -1_min; }), StartsWith("cutting_costs.time (h): got -0.01"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.pay = -18_eur / 1_h; }),
               StartsWith("cutting_costs.pay: got -18 EUR/h"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.packaging = not_a_number * 1_eur; }),
               StartsWith("cutting_costs.packaging: got nan EUR"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.freezing = -1_eur / 1_kg; }), StartsWith("cutting_costs.freezing"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.frozen = 1.01; }), StartsWith("cutting_costs.frozen: got 1.01"));
    CHECK_THAT(complaint([](by_hand& s) { s.costs.knife_wear = infinite * 1_eur; }),
               StartsWith("cutting_costs.knife_wear: got inf"));
    CHECK_THAT(complaint([](by_hand& s) { s.prices.portions["end steak"].each = not_a_number * 1_eur; }),
               StartsWith("price of end steak by the piece: got nan"));
}

TEST_CASE("savings beyond 64 bits are refused and not wrapped") {
    by_hand sample;
    sample.ready.price = 1e300_eur / 1_kg;
    CHECK_THROWS_AS(sample.saved(), invalid_input);
    sample.ready.price = 24_eur / 1_kg;
    sample.ready.edible_share = 1e-300;
    CHECK_THROWS_AS(sample.saved(), invalid_input);
    sample.ready.price = {};
    CHECK_THROWS_AS(sample.saved(), invalid_input); // 5.4e300 kg of meat that is free
    sample.ready.edible_share = 0.75;
    sample.costs.knife_wear = 1e17_eur;
    CHECK_THROWS_AS(sample.saved(), invalid_input);
    sample.costs.knife_wear = 5e16_eur; // 5e18 cents each
    sample.costs.packaging = 2.5e15_eur;
    CHECK_THROWS_WITH(sample.saved(), StartsWith("amount of EUR: got a sum beyond 64 bits"));
}

} // namespace savings_test
