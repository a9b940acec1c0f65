// Sheets planned whole: what four kinds of user ask, worked by hand, and published yield tests. Scenarios and prices are invented
// but for those with a source beside them.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "even_loins.hpp"
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/text/to_text.hpp>

namespace plan_sheet_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

cut_sheet sheet_in(const std::string& currency) {
    cut_sheet sheet{.plan_for = sheet_aim::most_portions};
    sheet.currency = iso_currency_named(currency);
    return sheet;
}

std::vector<std::size_t> portions_of(const sheet_account& account) {
    std::vector<std::size_t> counts;
    for (const cut_account& of : account.cuts) counts.push_back(of.portions);
    return counts;
}

mass weight_of(micrograms m) { return to_mass(m); }

} // namespace

TEST_CASE("plan_sheet: tells a thrifty cook what a dozen pounds give at three thicknesses") {
    // 12 lb of 16 in: 3/4 lb an inch. At 8.49 USD/lb 101.88 USD were paid; ready-cut steak costs 15.99 USD/lb.
    //   3/4 in: 21 slices of 9 oz (15 3/4 in), 11 lb 13 oz;  101.88 / 21 = 4.8514;  11.8125 × 15.99 = 188.881 -> 87.00 saved
    //   1 in:   16 slices of 12 oz, 12 lb;                   101.88 / 16 = 6.3675;  12 × 15.99 = 191.88       -> 90.00
    //   1 1/4:  12 slices of 15 oz (15 in), 11 lb 4 oz;      101.88 / 12 = 8.49;    11.25 × 15.99 = 179.8875  -> 78.01
    // The price at which the first saves nothing: 188.881 / 12 = 15.74.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.loins[0].price = per_pound(8.49);
    sheet.cuts = {slices("steak", 3.0_in / 4.0)};
    sheet.thicknesses = {0.75_in, 1_in, 1.25_in};
    sheet.alternatives = {{.ready = {.name = "ready-cut steak", .price = per_pound(15.99)}}};
    const sheet_answer answer = plan_sheet(sheet);
    const currency_choice choice(*sheet.currency);

    CHECK(answer.feasible());
    REQUIRE(answer.thicknesses.size() == 3);
    const std::vector<std::string> each{"4.85 USD", "6.37 USD", "8.49 USD"}, net{"87.00 USD", "90.00 USD", "78.01 USD"};
    const std::vector<std::size_t> counts{21, 16, 12};
    const std::vector<double> pounds{11.8125, 12.0, 11.25};
    for (std::size_t i = 0; i < 3; ++i) {
        const sheet_account& of = answer.thicknesses[i].account;
        INFO(i);
        CHECK(of.portions() == counts[i]);
        CHECK_THAT(weight_of(of.portion_weight()) / pound, WithinAbs(pounds[i], 1e-6)); // cells are whole micrograms
        CHECK(to_text(*of.cuts[0].cost_each()) == each[i]);
        CHECK(to_text(of.saved.at(0).net) == net[i]);
        CHECK(to_text(*of.paid) == "101.88 USD");
    }
    // All else is for the first.
    CHECK(answer.all == answer.thicknesses[0].account);
    CHECK_THAT((*break_even_price(answer.all.saved[0].terms).at * pound).value(), WithinAbs(188.881875 / 12.0, 1e-6));
    CHECK(answer.loins[0].found.has_value());
    CHECK_FALSE(answer.loins[0].guess.has_value());
}

TEST_CASE("plan_sheet: gives a chef one bill for two loins, plate cost and menu price") {
    // A: 12 lb of 16 in on the board, 12 lb 8 oz invoiced; B: 16 lb of 16 in, 16 lb 8 oz. 9.60 USD/lb: 120.00 and 158.40 USD.
    // 16 slices of 1 in each: of 12 oz at 120.00 / 16 = 7.50 USD, and of 16 oz at 158.40 / 16 = 9.90 USD; together 32 at 278.40 / 32
    // = 8.70 USD on average. 28 lb out of 29 lb: 96.55 %. With 1.30 USD of other food a plate is 10.00 USD: 25 % of 40 USD; for
    // 32 % it would have to sell at 31.25 USD.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("A", 12.5_lb, 16_in), even_loin("B", 16.5_lb, 16_in)};
    sheet.loins[0].on_the_board = 12_lb;
    sheet.loins[1].on_the_board = 16_lb;
    for (sheet_loin& loin : sheet.loins) loin.price = per_pound(9.60);
    sheet.cuts = {slices("strip", 1_in)};
    sheet.cuts[0].price_each = cash(40.0);
    sheet.menu = sheet_menu{.food_cost = 0.32, .rest_of_plate = cash(1.30)};
    std::vector<sheet_progress> told;
    const sheet_answer answer = plan_sheet(sheet, {.progress = [&](const sheet_progress& p) { told.push_back(p); }});
    const currency_choice choice(*sheet.currency);

    REQUIRE(answer.loins.size() == 2);
    CHECK(to_text(*answer.loins[0].account.paid) == "120.00 USD");
    CHECK(to_text(*answer.loins[0].account.cuts[0].cost_each()) == "7.50 USD");
    CHECK(to_text(*answer.loins[1].account.cuts[0].cost_each()) == "9.90 USD");
    const sheet_account& all = answer.all;
    CHECK(all.loins == 2);
    CHECK(all.portions() == 32);
    CHECK(to_text(*all.paid) == "278.40 USD");
    CHECK(*all.paid == *all.primary_value);
    CHECK(to_text(*all.cuts[0].cost_each()) == "8.70 USD");
    CHECK(all.cuts[0].cost == all.primary_value);
    CHECK_THAT(all.yield(), WithinAbs(28.0 / 29.0, 1e-9));
    CHECK_THAT(weight_of(all.purge) / pound, WithinAbs(1.0, 1e-6));
    CHECK(all.bought == all.purge + all.portion_weight());
    REQUIRE(answer.menu.size() == 1);
    CHECK(answer.menu[0].cut == "strip");
    CHECK_THAT(answer.menu[0].plate.food().value(), WithinAbs(10.0, 1e-12));
    CHECK_THAT(*answer.menu[0].food_cost, WithinAbs(0.25, 1e-14));
    CHECK(to_text(*answer.menu[0].price_needed) == "31.25 USD");
    // The two loins are ranked as offers of their own: 158.40 USD for 16 lb are less a pound than 120.00 for 12.
    REQUIRE(answer.offers.size() == 2);
    CHECK(answer.offers[0].offer.name == "loin B, as planned");
    // It says what it does and how far it is.
    REQUIRE(told.size() == 4);
    CHECK(told.front() == sheet_progress{"planning loin A", 1, 4});
    CHECK(told.back().step == 4);
}

TEST_CASE("plan_sheet: gives the meat case its margins, the price for one, and labels") {
    // 12 lb of 16 in at 8.00 USD/lb: 96.00 USD. Eight slices each of two cuts, all 12 oz: they sell for 8 × 0.75 × 16 = 96.00 and
    // 8 × 0.75 × 8 = 48.00 USD, 144.00 in all: a margin of 48.00, a third.
    //   Cost by weight: 48.00 each; margins 48.00 (50 %) and 0.
    //   Cost by sales value: 96 × 96 / 144 = 64.00 and 32.00; margins 32.00 and 16.00, a third each.
    // For a margin of 25 % the first has to bring 48 / 0.75 = 64.00 USD for its 6 lb: 10.67 USD/lb, 8.00 USD a piece.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.loins[0].price = per_pound(8.00);
    sheet.loins[0].lot = "L7";
    sheet.cuts = {slices("centre", 1_in), slices("end", 1_in)};
    sheet.cuts[0].price = per_pound(16.00);
    sheet.cuts[1].price = per_pound(8.00);
    for (sheet_cut& cut : sheet.cuts) cut.at_least = cut.at_most = 8;
    sheet.retail = sheet_case{.margin = 0.25};
    const currency_choice choice(*sheet.currency);
    {
        const sheet_answer answer = plan_sheet(sheet);
        const sheet_account& all = answer.all;
        CHECK(portions_of(all) == std::vector<std::size_t>{8, 8});
        CHECK(to_text(*all.cuts[0].cost) == "48.00 USD");
        CHECK(to_text(*all.cuts[0].margin()) == "48.00 USD");
        CHECK_THAT(*all.cuts[0].margin_share(), WithinAbs(0.5, 1e-12));
        CHECK(to_text(*all.cuts[1].margin()) == "0.00 USD");
        CHECK(to_text(*all.sales) == "144.00 USD");
        CHECK(to_text(*all.margin()) == "48.00 USD");
        CHECK_THAT(*all.margin_share(), WithinAbs(1.0 / 3.0, 1e-12));
        CHECK(to_text(*all.cuts[0].price_needed, price_basis::per_pound) == "10.67 USD/lb");
        CHECK(to_text(*all.cuts[0].each_needed) == "8.00 USD");
        // 0.75 lb at 16.00 and 8.00 USD/lb.
        REQUIRE(answer.labels.size() == 16);
        std::size_t twelve = 0, six = 0;
        for (const sheet_label& label : answer.labels) {
            CHECK(label.label.net.text() == "0.75 lb");
            twelve += to_text(label.label.total) == "12.00 USD" ? 1 : 0;
            six += to_text(label.label.total) == "6.00 USD" ? 1 : 0;
        }
        CHECK(twelve == 8);
        CHECK(six == 8);
    }
    {
        // In a packing of 0.013 lb the scale carries 0.763 lb; of a tare it takes whole hundredths, 0.02 lb, which leaves 0.743: 0.74 lb,
        // and 0.74 × 16.00 = 11.84 USD.
        cut_sheet packed = sheet;
        packed.retail->tare = 0.013_lb;
        const sheet_answer answer = plan_sheet(packed);
        REQUIRE(answer.labels.size() == 16);
        CHECK(std::all_of(answer.labels.begin(), answer.labels.end(), [](const sheet_label& l) {
            return l.label.net.text() == "0.74 lb" && l.label.tare == 0.013_lb;
        }));
        CHECK(std::count_if(answer.labels.begin(), answer.labels.end(),
                            [](const sheet_label& l) { return to_text(l.label.total) == "11.84 USD"; }) == 8);
        packed.retail->tare = -0.01_lb;
        CHECK_THROWS_AS(plan_sheet(packed), invalid_input);
        // What is packed in more than it weighs is still what it weighs; what a scale does not show has no label.
        packed.retail->tare = 2_lb;
        CHECK(plan_sheet(packed).labels.size() == 16);
    }
    {
        sheet.retail->share_cost_by = cost_share::sales_value;
        const sheet_answer answer = plan_sheet(sheet);
        CHECK(to_text(*answer.all.cuts[0].cost) == "64.00 USD");
        CHECK(to_text(*answer.all.cuts[1].cost) == "32.00 USD");
        for (const cut_account& of : answer.all.cuts) CHECK_THAT(*of.margin_share(), WithinAbs(1.0 / 3.0, 1e-12));
        CHECK(answer.loins[0].shared.has_value());
    }
    {
        // One pack in ten is never sold: 129.60 USD, and what is sold has to bring 64.00 for 5.4 lb.
        sheet.retail = sheet_case{.margin = 0.25, .shrink = 0.1};
        const sheet_answer answer = plan_sheet(sheet);
        CHECK(to_text(*answer.all.sales) == "129.60 USD");
        CHECK(to_text(*answer.all.cuts[0].price_needed, price_basis::per_pound) == "11.85 USD/lb");
    }
    sheet.cuts[1].price.reset();
    sheet.retail->share_cost_by = cost_share::sales_value;
    CHECK_THROWS_AS(plan_sheet(sheet), invalid_input);
}

TEST_CASE("plan_sheet: gives the class the yield test of a course page, cut from a sheet") {
    // Strip loin, a course page of 2007: 5.2 kg at 11.95, 4.6 kg usable; the yield of 88.5 % was read in the source, the cost of
    // 13.50870 computed from its inputs. Here 520 mm of it weigh 10 g each, and 60 mm are faced off.
    cut_sheet sheet = sheet_in("EUR");
    sheet.units = sheet_units::metric;
    sheet.loins = {even_loin("", 5.2_kg, 520_mm)};
    sheet.loins[0].price = per_kilogram(11.95);
    sheet.loins[0].stations = {{.width = 200_mm, .depth = 60_mm}};
    sheet.rules.facing = 60_mm;
    sheet.rules.facing_goes_to = destination::discard;
    sheet.cuts = {slices("usable", 46_mm)};
    const sheet_answer answer = plan_sheet(sheet);
    const currency_choice choice(*sheet.currency);
    const yield_test<chosen_currency>& test = answer.loins[0].settled->test;
    CHECK(answer.all.portions() == 10);
    CHECK(percent_text(test.yield()) == "88.5 %");
    CHECK_THAT(answer.all.yield(), WithinAbs(4.6 / 5.2, 1e-9));
    CHECK(to_text(test.cost_per_usable()->value(), 5) == "13.50870");
    CHECK(to_text(*answer.all.primary_value) == "62.14 EUR"); // 5.2 × 11.95
}

TEST_CASE("plan_sheet: leaves 84 dollars on four pounds of tenderloin") {
    // Trade press, 2013, read in the source: 12 lb at 10 USD/lb, 3 lb of trim at 2, 5 lb of medallions at 6; four pounds of
    // centre cut carry 120 - 6 - 30 = 84 USD. Here a pound is an inch: 3 in faced off for grind, 4 slices, 5 in for strips.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("", 12_lb, 12_in)};
    sheet.loins[0].stations = {{.width = 10_in, .depth = 3.8_in}};
    sheet.loins[0].price = per_pound(10.0);
    sheet.rules.facing = 3_in;
    sheet.rules.facing_goes_to = destination::grind;
    sheet.rules.loose = {{.goes_to = destination::strips}};
    sheet.by_products[destination::grind] = per_pound(2.0);
    sheet.by_products[destination::strips] = per_pound(6.0);
    sheet.cuts = {slices("centre cut", 1_in)};
    sheet.cuts[0].at_most = 4;
    const sheet_answer answer = plan_sheet(sheet);
    const currency_choice choice(*sheet.currency);
    CHECK(to_text(*answer.all.credit) == "36.00 USD");
    CHECK(to_text(*answer.all.primary_value) == "84.00 USD");
    CHECK(to_text(*answer.all.cuts[0].cost_each()) == "21.00 USD");
    CHECK_THAT(weight_of(answer.all.loose[destination::strips]) / pound, WithinAbs(5.0, 1e-6));
    CHECK_THAT(weight_of(answer.all.loose[destination::grind]) / pound, WithinAbs(3.0, 1e-6));
}

TEST_CASE("plan_sheet: shares the costs of cutting several loins by their weight, and adds up what they save") {
    // 10 and 20 lb at 5 USD/lb; 30 minutes at 18 USD/h are 9.00 USD: 3.00 and 6.00. Against 8 USD/lb, everything portioned:
    // 80 - 50 - 3 = 27.00 and 160 - 100 - 6 = 54.00, 81.00 in all. It pays up to (240 - 9) / 30 = 7.70 USD/lb.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("A", 10_lb, 15_in), even_loin("B", 20_lb, 30_in)};
    for (sheet_loin& loin : sheet.loins) loin.price = per_pound(5.0);
    sheet.cuts = {slices("steak", 1_in)};
    sheet.costs = {.time = 30.0 * minute, .pay = cash(18.0) / hour};
    sheet.alternatives = {{.ready = {.name = "case", .price = per_pound(8.0)}}};
    const sheet_answer answer = plan_sheet(sheet);
    const currency_choice choice(*sheet.currency);
    CHECK(to_text(answer.loins[0].saved[0].net_saving) == "27.00 USD");
    CHECK(to_text(answer.loins[1].saved[0].net_saving) == "54.00 USD");
    CHECK(to_text(answer.all.saved[0].net) == "81.00 USD");
    CHECK_THAT((*break_even_price(answer.all.saved[0].terms).at * pound).value(), WithinAbs(7.70, 1e-9));
    CHECK_THAT(answer.all.saved[0].terms.net_saving().value(), WithinAbs(81.0, 1e-9));
}

TEST_CASE("plan_sheet: brings the trim to a fat content with lean meat, and credits it at what is left") {
    // A fat cover of 1/2 in and a tail of 2 in, all of it off and into the grind.
    cut_sheet sheet = sheet_in("USD");
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.loins[0].stations[0].fat_cover = 0.5_in;
    sheet.loins[0].stations[0].tail = 2_in;
    sheet.loins[0].price = per_pound(8.0);
    sheet.cuts = {slices("steak", 1_in)};
    sheet.cuts[0].spec.trim = {.fat_cover = length{}, .tail = length{}};
    sheet.rules.trim_goes_to[tissue::fat_cover] = destination::grind;
    sheet.by_products[destination::grind] = per_pound(5.50);
    const currency_choice choice(*sheet.currency);

    // Without [grind] it counts as the sheet says, and the answer says how fat it is: the lipid of separable fat is 70.89 %, of
    // lean 5.67 % (USDA SR28), and the tail is half of each.
    const sheet_answer plain = plan_sheet(sheet);
    REQUIRE(plain.grind.has_value());
    const own_trim& own = plain.grind->own;
    const auto part = [&](tissue t) { return weight_of(own.loose[t] + own.trim[t]) / pound; };
    const double fat = (0.7089 * part(tissue::fat_cover) + (0.7089 + 0.0567) / 2.0 * part(tissue::tail) +
                        0.0567 * (part(tissue::eye) + part(tissue::connective))) /
                       (weight_of(own.total()) / pound);
    CHECK_THAT(plain.grind->fat, WithinAbs(fat, 1e-9));
    CHECK(plain.grind->fat > 0.4);
    CHECK_FALSE(plain.grind->made.has_value());
    const double trim = weight_of(own.total()) / pound;
    CHECK_THAT(to_money(*plain.all.credit).value(), WithinAbs(5.50 * trim, 0.01));

    // Of W pounds at f, to t with lean at l: W (f - t) / (t - l) of lean (Pearson square). At 20 % and 6 %, lean at 4.90 USD/lb.
    sheet.grind = sheet_grind{.fat = 0.20, .lean_fat = 0.06, .lean_price = per_pound(4.90)};
    const sheet_answer answer = plan_sheet(sheet);
    const double lean = trim * (fat - 0.20) / (0.20 - 0.06);
    CHECK_THAT(weight_of(answer.grind->lean_needed) / pound, WithinAbs(lean, 1e-6));
    // (5.50 (W + lean) - 4.90 lean) / W, but never more than the grind itself brings: the 0.60 on the lean is the lean's.
    CHECK((5.50 * (trim + lean) - 4.90 * lean) / trim > 5.50);
    CHECK_THAT((*answer.grind->worth * pound).value(), WithinAbs(5.50, 1e-9));
    // Dearer lean, at 6.50: the trim has to pay for it.
    sheet.grind->lean_price = per_pound(6.50);
    const sheet_answer dearer = plan_sheet(sheet);
    const double worth = (5.50 * (trim + lean) - 6.50 * lean) / trim;
    CHECK_THAT((*dearer.grind->worth * pound).value(), WithinAbs(worth, 1e-5));
    CHECK_THAT(to_money(*dearer.all.credit).value(), WithinAbs(worth * trim, 0.01));
    // Nobody knows what lean costs: nothing is credited.
    sheet.grind->lean_price.reset();
    const sheet_answer unknown = plan_sheet(sheet);
    CHECK_FALSE(unknown.grind->worth.has_value());
    CHECK(unknown.all.credit->minor == 0);
    CHECK_THAT(weight_of(unknown.grind->lean_needed) / pound, WithinAbs(lean, 1e-6));
}

TEST_CASE("plan_sheet: plans by every aim with numbers of one cut, and by all but best value without prices") {
    for (const sheet_aim aim : {sheet_aim::most_portions, sheet_aim::least_waste, sheet_aim::least_giveaway,
                                sheet_aim::even_portions, sheet_aim::fewest_settings, sheet_aim::best_value}) {
        INFO(static_cast<int>(aim));
        cut_sheet sheet;
        sheet.plan_for = aim;
        sheet.loins = {even_loin("", 12_lb, 16_in)};
        sheet.cuts = {slices("steak", 1_in), slices("roast", 2_in)};
        for (sheet_cut& cut : sheet.cuts) cut.charged_as = 12_oz;
        sheet.cuts[1].at_least = sheet.cuts[1].at_most = 2;
        if (aim == sheet_aim::best_value) {
            CHECK_THROWS_AS(plan_sheet(sheet), invalid_input);
            sheet.currency = iso_currency_named("USD");
            for (sheet_cut& cut : sheet.cuts) cut.price = per_pound(10.0);
        }
        const sheet_answer answer = plan_sheet(sheet);
        CHECK(answer.feasible());
        CHECK(answer.all.cuts[1].portions == 2);
        CHECK_FALSE(answer.all.paid.has_value());
        CHECK_FALSE(answer.all.cuts[0].cost.has_value());
        CHECK(answer.all.saved.empty());
        CHECK(answer.loins[0].found.has_value() ==
              (aim != sheet_aim::even_portions && aim != sheet_aim::fewest_settings));
    }
}

TEST_CASE("plan_sheet: takes a loin of which little is known for a typical one, and says how far that goes") {
    cut_sheet sheet;
    sheet.plan_for = sheet_aim::most_portions;
    sheet.loins = {{.weight = 12_lb}};
    sheet.cuts = {slices("steak", 1_in)};
    const sheet_answer by_weight = plan_sheet(sheet);
    REQUIRE(by_weight.loins[0].guess.has_value());
    const guess_spread& guess = *by_weight.loins[0].guess;
    CHECK(guess.kind == "beef strip loin");
    CHECK(guess.length_spread == beef_strip_loin.length.spread);
    // Slices of a given thickness are as many as the loin is long: 1.055 times the length gives as many more, to a slice.
    const auto count = static_cast<double>(by_weight.all.portions());
    CHECK(guess.most >= by_weight.all.portions());
    CHECK_THAT(static_cast<double>(guess.most), WithinAbs(count * 1.055, 1.0));
    CHECK_THAT(static_cast<double>(guess.fewest), WithinAbs(count / 1.055, 1.0));
    CHECK(guess.fewest < guess.most);
    CHECK(by_weight.loins[0].planned.plan.total == to_micrograms(12_lb));

    // With the length: that is its length, and no longer one that might be.
    sheet.loins[0].length = 16_in;
    const sheet_answer by_length = plan_sheet(sheet);
    CHECK(by_length.loins[0].planned.plan.extent == 16_in);
    CHECK(by_length.all.portions() == 16);
    CHECK(by_length.loins[0].guess->length_spread == 0.0);
    CHECK(by_length.loins[0].guess->fewest == 16);

    sheet.loins[0].kind = "boneless pork loin";
    sheet.loins[0].weight = 9_lb;
    sheet.loins[0].length.reset();
    CHECK(plan_sheet(sheet).loins[0].guess->kind == "boneless pork loin");
    sheet.loins[0].kind = "whale";
    CHECK_THROWS_WITH(plan_sheet(sheet),
                      ContainsSubstring("[loin] kind: got \"whale\", expected one of beef strip loin"));
    sheet.loins[0] = {.weight = 120_lb};
    CHECK_THROWS_WITH(plan_sheet(sheet), StartsWith("[loin] weight: got "));
}

TEST_CASE(
    "plan_sheet: plans US sheets on sixteenths of an inch, metric ones on half millimetres, unless told otherwise") {
    cut_sheet sheet;
    sheet.plan_for = sheet_aim::most_portions;
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.cuts = {slices("steak", 1_in)};
    CHECK(plan_sheet(sheet).loins[0].planned.searched.positions == 16 * 16 + 1);
    sheet.grid = 0.25_in;
    CHECK(plan_sheet(sheet).loins[0].planned.searched.positions == 16 * 4 + 1);
    sheet.grid.reset();
    sheet.units = sheet_units::metric;
    CHECK(plan_sheet(sheet).loins[0].planned.searched.positions == 814); // 406.4 mm / 0.5 mm = 812.8
}

TEST_CASE("plan_sheet: answers what cannot be cut, and refuses what cannot be planned") {
    cut_sheet sheet;
    sheet.plan_for = sheet_aim::most_portions;
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.cuts = {slices("steak", 20_in)};
    const sheet_answer none = plan_sheet(sheet);
    CHECK_FALSE(none.feasible());
    CHECK(none.all.portions() == 0);
    CHECK_FALSE(none.loins[0].planned.limits.empty());
    sheet.cuts.clear();
    CHECK_THROWS_AS(plan_sheet(sheet), invalid_input);
    sheet.cuts = {slices("steak", 1_in)};
    sheet.loins[0].weight = 60_lb; // four times what such a loin can weigh
    CHECK_THROWS_WITH(plan_sheet(sheet), StartsWith("[loin] weight: got "));
    sheet.loins.clear();
    CHECK_THROWS_AS(plan_sheet(sheet), invalid_input);
}

TEST_CASE("plan_sheet: says why it looks for no what-ifs where there are too many cuts for them") {
    for (const std::size_t count : {detail::most_cuts_of_what_ifs, std::size_t{63}}) {
        cut_sheet sheet;
        sheet.plan_for = sheet_aim::most_portions;
        sheet.grid = 0.5_in;
        sheet.loins = {even_loin("", 12_lb, 16_in)};
        for (std::size_t i = 0; i < count; ++i) sheet.cuts.push_back(slices("steak " + std::to_string(i), 1_in));
        const sheet_answer answer = plan_sheet(sheet);
        CHECK(answer.feasible());
        CHECK(answer.loins[0].found.has_value() == (count <= detail::most_cuts_of_what_ifs));
        REQUIRE(answer.remarks.size() == (answer.loins[0].found ? 0 : 1));
        if (!answer.loins[0].found) CHECK_THAT(answer.remarks[0].text(), ContainsSubstring("the sheet has 63 cuts"));
    }
}

TEST_CASE("plan_sheet: stops when it is told to, with plans that hold and without what is left") {
    cut_sheet sheet;
    sheet.plan_for = sheet_aim::most_portions;
    sheet.loins = {even_loin("", 12_lb, 16_in)};
    sheet.cuts = {slices("steak", 1_in)};
    sheet_planning how;
    how.search.stop = stop_signal([] { return true; });
    const sheet_answer answer = plan_sheet(sheet, how);
    CHECK(answer.loins.size() == 1);
    CHECK_FALSE(answer.loins[0].found.has_value());
    REQUIRE_FALSE(answer.remarks.empty());
    CHECK_THAT(answer.remarks.back().text(), ContainsSubstring("stopped"));
}

} // namespace plan_sheet_test
