// That sheets are read as people write them, and that a refusal says where, what and what would do.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <sstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "sheet_texts.hpp"
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/units/literals.hpp>

namespace read_sheet_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

std::string error_of(const std::string& text) {
    try {
        (void)read_sheet(text);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "no error";
}

/// " (line 7)": where `what` stands in a text.
std::string line_of(const std::string& text, const std::string& what) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    const auto lines = std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n') + 1;
    return " (line " + std::to_string(lines) + ')';
}

length inches(std::string_view text) { return from_text<length>(std::string(text) + " in"); }

} // namespace

TEST_CASE("read_sheet: reads what a kitchen wrote down") {
    const cut_sheet sheet = read_sheet(kitchen_sheet);
    CHECK(sheet.title == "Friday service at the Harbour Lantern (an invented inn)");
    CHECK(sheet.currency == iso_currency{"USD", 2});
    CHECK(sheet.units == sheet_units::us);
    REQUIRE(sheet.loins.size() == 1);
    const sheet_loin& loin = sheet.loins[0];
    CHECK(loin.name.empty());
    CHECK(loin.weight == from_text<mass>("12 lb 2 oz"));
    CHECK(loin.on_the_board == from_text<mass>("11 lb 15 oz"));
    CHECK(loin.length == inches("16 1/2"));
    REQUIRE(loin.stations.size() == 3);
    CHECK(loin.stations[1] == station{inches("8"), inches("8"), inches("3"), inches("3/8"), inches("1 1/2")});
    CHECK(loin.gluteus_medius == gluteus_medius_entry{inches("13 1/4"), 0.3});
    CHECK(sheet.plan_for == sheet_aim::best_value);
    CHECK(grid_of(sheet) == inches("1/64"));
    REQUIRE(sheet.cuts.size() == 3);
    CHECK(sheet.cuts[0].spec.name == "strip steak");
    CHECK(sheet.cuts[0].spec.thickness == quantity_range<length>{inches("1 1/8"), inches("1 1/2")});
    CHECK(sheet.cuts[1].spec.pieces == 2);
    CHECK(sheet.cuts[1].spec.gluteus_medius == no_gluteus_medius);
    CHECK(sheet.cuts[2].price);
    CHECK_FALSE(sheet.cuts[2].price_each);
    CHECK(sheet.rules.loose.size() == 2);
    CHECK(sheet.rules.trim_goes_to[tissue::fat_cover] == destination::rendering);
    CHECK(sheet.by_products[destination::grind]);
    CHECK_FALSE(sheet.by_products[destination::dice]);
    CHECK(sheet.costs.time == 35_min);
    REQUIRE(sheet.alternatives.size() == 1);
    CHECK(sheet.alternatives[0].ready.replaces == std::vector<std::string>{"strip steak", "halved fillet"});
    REQUIRE(sheet.alternatives[0].look);
    CHECK(sheet.alternatives[0].look->gluteus_medius == 0.08);
    REQUIRE(sheet.offers.size() == 2);
    CHECK(sheet.offers[0].name == "trimmed loin, Gull Wharf");
    CHECK(sheet.offers[1].yield == 0.63);
    std::istringstream in("\xEF\xBB\xBF" + kitchen_sheet);
    CHECK(read_sheet(in) == sheet);
}

TEST_CASE("read_sheet: reads a sheet of a home cook, and of who knows only the weight") {
    const cut_sheet home = read_sheet(home_sheet);
    CHECK(home.units == sheet_units::decimal_pounds); // as the scale of the store shows them
    CHECK(grid_of(home) == inches("1/16"));
    CHECK(home.plan_for == sheet_aim::most_portions);
    const cut_sheet bare = read_sheet(weight_only_sheet);
    CHECK(bare.units == sheet_units::us);
    CHECK_FALSE(bare.currency);
    CHECK(bare.loins[0].stations.empty());
    CHECK_FALSE(bare.loins[0].length);
    CHECK(bare.plan_for == sheet_aim::most_portions); // nothing is priced
    CHECK(grid_of(bare) == inches("1/16"));
    CHECK(read_sheet(
              replaced(weight_only_sheet, "thickness = 1 in\n", "[cutting]\nthicknesses = 3/4 in, 1 in, 1 1/4 in\n"))
              .cuts[0]
              .spec.thickness == quantity_range<length>(inches("3/4")));
}

TEST_CASE("read_sheet: reads a delivery of a restaurant as its chef writes it") {
    const cut_sheet sheet = read_sheet(chef_sheet);
    REQUIRE(sheet.loins.size() == 2);
    CHECK(sheet.currency == iso_currency{"USD", 2});
    CHECK(sheet.date == std::chrono::year(2026) / 3 / 14);
    CHECK(sheet.cutter == "M. Ferro (invented)");
    CHECK(sheet.loins[0].name == "A");
    CHECK(sheet.loins[0].lot == "4711-A");
    CHECK(sheet.loins[0].supplier == "Gull Wharf");
    CHECK(sheet.loins[0].on_arrival == temperature::from_fahrenheit(36.0));
    CHECK(sheet.loins[0].stations.size() == 2);
    CHECK(sheet.loins[1].stations.empty());
    CHECK_THAT(sheet.loins[1].price->value(), WithinRel(9.85 / 0.45359237, 1e-15));
    CHECK(sheet.rules.cut_at == std::vector<length>{inches("5"), inches("9")});
    CHECK(sheet.rules.kept_whole == std::vector<quantity_range<length>>{{inches("11"), inches("13")}});
    CHECK(sheet.rules.remnant == least_remnant{inches("1/2"), mass{}, true});
    CHECK(sheet.cuts[0].spec.thickness == quantity_range<length>{inches("1"), inches("1 5/8")});
    CHECK(sheet.cuts[0].at_least == 4);
    CHECK_FALSE(sheet.cuts[0].at_most);
    CHECK(sheet.cuts[1].at_most == 4);
    CHECK(sheet.cuts[0].charged_as == 14_oz);
    CHECK(sheet.cuts[0].price_each->value() == 58.0);
    CHECK(sheet.rules.loose[0].place == loose_place::ends);
    CHECK_THAT(sheet.costs.pay.value(), WithinRel(24.0 / 3600.0, 1e-15));
    CHECK(sheet.alternatives[0].ready.replaces == std::vector<std::string>{"strip 14 oz", "fillet 7 oz"});
    REQUIRE(sheet.grind);
    CHECK(sheet.grind->fat == 0.2);
    CHECK(sheet.grind->lean_fat == 0.08);
    REQUIRE(sheet.menu);
    CHECK(sheet.menu->food_cost == 0.32);
    CHECK(sheet.menu->rest_of_plate.value() == 2.75);
    CHECK_FALSE(sheet.retail);
}

TEST_CASE("read_sheet: reads a meat case with an order of cuts, and prices below zero of what is taken away") {
    const cut_sheet sheet = read_sheet(case_sheet);
    CHECK(sheet.units == sheet_units::metric);
    CHECK(grid_of(sheet) == default_step);
    CHECK(sheet.rules.order ==
          std::vector<cut_order>{{"centre cut", "thin cut"}, {"centre cut", "end cut"}, {"thin cut", "end cut"}});
    CHECK(sheet.rules.trim_whole.over_cut == 1_mm);
    CHECK(sheet.cuts[1].at_least == 4);
    CHECK(sheet.cuts[1].at_most == 4);
    CHECK(sheet.cuts[2].spec.trim.tail == tail_limit{30_mm, 20_mm});
    CHECK(sheet.cuts[2].spec.gluteus_medius == gluteus_medius_up_to(0.4));
    CHECK(sheet.by_products[destination::rendering]->value() == -0.1);
    REQUIRE(sheet.retail);
    CHECK(sheet.retail->margin == 0.3);
    CHECK(sheet.retail->share_cost_by == cost_share::sales_value);
    CHECK(sheet.retail->sell_by == std::chrono::year(2026) / 3 / 21);
}

TEST_CASE("read_sheet: forgives what does not change what is meant") {
    const cut_sheet sheet = read_sheet(kitchen_sheet);
    const std::vector<std::pair<std::string, std::string>> same{
        {"[sheet]", "[Sheet]"},
        {"[cut strip steak]", "[CUT strip steak]"},
        {"[sheet]", "# a remark\n; another one\n\n  [ sheet ] ; with a remark"},
        {"currency = USD", "Currency = usd"},
        {"currency = USD", "currency: USD"},
        {"weight = 12 lb 2 oz", "weight = 12 pounds 2 ounces"},
        {"weight = 12 lb 2 oz", "Weight=12 LB. 2 OZ."},
        {"weight on the board", "weight_on_the_board"},
        {"price = 8.10 USD/lb", "price = $8.10/lb"},
        {"price = 8.10 USD/lb", "price = $8.10 per pound"},
        {"price = 8.10 USD/lb", "price = 8.10 usd / lb # this week"},
        {"length = 16 1/2 in", "length = 16½\""},
        {"length = 16 1/2 in", "length = 16 1/2 inches\t; as it lies"},
        {"1 1/8 in to 1 1/2 in", "1 1/8 to 1 1/2 in"},
        {"1 1/8 in to 1 1/2 in", "from 1⅛ to 1½ in"},
        {"10 oz to 12 1/2 oz", "10 - 12 1/2 oz"},
        {"plan for = best value", "Plan For = Best Value"},
        {"silverskin = off", "silverskin = No"},
        {"replaces = strip steak, halved fillet", "replaces = Strip Steak,\tHALVED FILLET,"},
        {"title = Friday service at the Harbour Lantern (an invented inn)",
         "title = \"Friday service at the Harbour Lantern (an invented inn)\" ; in quotes"}};
    for (const auto& [what, with] : same) {
        INFO(what << " -> " << with);
        CHECK(read_sheet(replaced(kitchen_sheet, what, with)) == sheet);
    }
    std::string windows;
    for (const char c : kitchen_sheet) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
    CHECK(read_sheet(windows) == sheet);
}

TEST_CASE("read_sheet: takes the sign of a currency for the sheet's own only where that is written so") {
    const std::string dollars =
        "[sheet]\ncurrency = CAD\n[loin]\nweight = 12 lb\nprice = $8/lb\n[cut steak]\nthickness = 1 in\n";
    CHECK_THAT(read_sheet(dollars).loins[0].price->value(), WithinRel(8.0 / 0.45359237, 1e-15));
    CHECK_THAT(
        error_of(replaced(dollars, "CAD", "EUR")),
        StartsWith(
            "[loin] price (line 5): got \"$8/lb\", expected a price such as 7.90 EUR/lb or /kg (a sign that does not "
            "stand for EUR"));
    CHECK_THAT(
        error_of(replaced(dollars, "currency = CAD\n", "")),
        StartsWith("[sheet] currency: got nothing, expected the ISO 4217 code of the money in [loin] price (line 4)"));
}

TEST_CASE("read_sheet: keeps words as they are, and quotes only what could be taken for something else") {
    const auto title = [](const std::string& text) {
        return read_sheet("[sheet]\ntitle = " + text + "\n" + weight_only_sheet).title;
    };
    CHECK(title("Loin #4") == "Loin #4");
    CHECK(title("a;b") == "a;b");
    CHECK(title("a ; b") == "a");
    CHECK(title("a # b") == "a");
    CHECK(title("\"a ; b\"") == "a ; b");
    CHECK(title("\"a ; b\" ; c") == "a ; b");
    CHECK(title("\"a\" and \"b\"") == "\"a\" and \"b\"");
    CHECK(title("\"say \"\"a\"\"\"") == "say \"a\"");
    CHECK(title("a, b, \"c\"") == "a, b, \"c\"");
    const cut_sheet odd =
        read_sheet("[loin]\nweight = 12 lb\n[cut \"a]b\"]\nthickness = 1 in\n[cut \"so\" called, x]\nthickness = "
                   "1 in\n[cutting]\norder = a]b, \"\"\"so\"\" called, x\"\n");
    CHECK(odd.cuts[0].spec.name == "a]b");
    CHECK(odd.cuts[1].spec.name == "\"so\" called, x");
    CHECK(odd.rules.order == std::vector<cut_order>{{"a]b", "\"so\" called, x"}});
}

TEST_CASE("read_sheet: names section, key, line, text and expectation") {
    struct wrong {
        std::string what, with; ///< of the kitchen's sheet
        std::string place; ///< section and key; " (line ...)" behind it where the text that is wrong stands on a line
        std::string said;  ///< the beginning of what is said of it
    };
    const std::vector<wrong> cases{
        {"weight = 12 lb 2 oz", "weight = 12 lb 2 oxen", "[loin] weight", "got \"12 lb 2 oxen\", expected a mass"},
        {"weight on the board = 11 lb 15 oz", "weight on the board = 13 lb", "[loin] weight on the board",
         "got \"13 lb\", expected at most the invoiced weight, 12 lb 2 oz"},
        {"price = 8.10 USD/lb", "price = 8.10 EUR/lb", "[loin] price",
         "got \"8.10 EUR/lb\", expected a price such as 7.90 USD/lb"},
        {"length = 16 1/2 in", "length = 0 in", "[loin] length", "got \"0 in\", expected a finite value above zero"},
        {"length = 16 1/2 in", "length = 16,5 in", "[loin] length", "got \"16,5 in\""},
        {"tail = 2 in", "tail = 20 in", "[station 1] tail", "got \"20 in\", expected less than the width, 8 1/4 in"},
        {"at = 8 in", "at = 0.0 in", "[station 2] at", "got \"0.0 in\", expected more than at the station before it"},
        {"at = 16 1/2 in", "at = 17 in", "[station 3] at", "got \"17 in\", expected at most the length, 16 1/2 in"},
        {"gluteus medius share = 30 %", "gluteus medius share = 130 %", "[loin] gluteus medius share",
         "got \"130 %\", expected a share"},
        {"gluteus medius from = 13 1/4 in", "gluteus medius from = 17 in", "[loin] gluteus medius from",
         "got \"17 in\", expected less than the length"},
        {"plan for = best value", "plan for = best", "[cutting] plan for",
         "got \"best\", expected one of best value, most portions, least waste"},
        {"facing = 1/4 in", "facing = 17 in", "[cutting] facing",
         "got \"17 in\", expected less than the loin's length, 16 1/2 in"},
        {"grid = 1/64 in", "grid = 0 in", "[cutting] grid", "got \"0 in\", expected a finite value above zero"},
        {"grid = 1/64 in", "cut at = 20 in", "[cutting] cut at",
         "got \"20 in\", expected from the facing cut at 1/4 in to"},
        {"grid = 1/64 in", "kept whole = 5 in to 3 in", "[cutting] kept whole",
         "got \"5 in to 3 in\", expected at least the min"},
        {"grid = 1/64 in", "remnant required = perhaps", "[cutting] remnant required",
         "got \"perhaps\", expected one of yes, no"},
        {"grid = 1/64 in", "portions = 12", "[cutting] portions",
         "got \"12\", expected none: only plans for even portions take it"},
        {"grid = 1/64 in", "even within = 1/4 oz", "[cutting] even within",
         "got \"1/4 oz\", expected none: only plans for even portions take it"},
        {"grid = 1/64 in", "thicknesses = 1 in, 2 in", "[cutting] thicknesses",
         "got \"1 in, 2 in\", expected one cut on the sheet"},
        {"grid = 1/64 in", "order = strip steak, roast", "[cutting] order",
         "got \"roast\", expected names of cuts in the sheet"},
        {"grid = 1/64 in", "order = strip steak, end stake", "[cutting] order",
         "got \"end stake\", expected names of cuts in the sheet, perhaps end steak"},
        {"grid = 1/64 in", "order = strip steak", "[cutting] order",
         "got \"strip steak\", expected names of two cuts or more"},
        {"grid = 1/64 in", "order = strip steak, end steak, strip steak", "[cutting] order",
         "got \"strip steak, end steak, strip steak\", expected an order without a circle"},
        {"1 1/8 in to 1 1/2 in", "1 1/2 in to 1 1/8 in", "[cut strip steak] thickness",
         "got \"1 1/2 in to 1 1/8 in\", expected at least the min, 1 1/2 in"},
        {"1 1/8 in to 1 1/2 in", "1 inn", "[cut strip steak] thickness", "got \"1 inn\""},
        {"1 1/8 in to 1 1/2 in", "at most 2 in", "[cut strip steak] thickness",
         "got \"at most 2 in\", expected a lower limit above zero"},
        {"portion = 10 oz to 12 1/2 oz", "portion = 12 oz to 10 oz", "[cut strip steak] portion",
         "got \"12 oz to 10 oz\", expected at least the min, 12 oz"},
        {"portion = 10 oz to 12 1/2 oz", "zone = 12 in to 1 in", "[cut strip steak] zone", "got \"12 in to 1 in\""},
        {"portion = 10 oz to 12 1/2 oz", "thickness step = 1/10 in", "[cut strip steak] thickness step",
         "got \"1/10 in\", expected a whole multiple of the grid, 1/64 in"},
        {"portion = 10 oz to 12 1/2 oz", "one thickness = maybe", "[cut strip steak] one thickness",
         "got \"maybe\", expected one of yes, no"},
        {"portion = 10 oz to 12 1/2 oz", "charged as = 0 oz", "[cut strip steak] charged as", "got \"0 oz\", expected"},
        {"pieces = 2", "pieces = 1.5", "[cut halved fillet] pieces", "got \"1.5\", expected a whole number, 1 to 100"},
        {"gluteus medius = none", "gluteus medius = some", "[cut halved fillet] gluteus medius",
         "got \"some\", expected one of none"},
        {"gluteus medius = any", "gluteus medius = up to 2000 %", "[cut end steak] gluteus medius",
         "got \"up to 2000 %\", expected a share"},
        {"price = 15.90 USD/lb", "prize = 15.90 USD/lb", "[cut strip steak] prize",
         "got a key that has no meaning here, expected perhaps price; one of thickness, "},
        {"[worth]", "[words]", "[words]", "got a section that has no meaning here"},
        {"[worth]", "[cuttings]", "[cuttings]", "got a section that has no meaning here, expected perhaps cutting"},
        {"[costs]", "[cost]", "[cost]", "got a section that has no meaning here, expected perhaps costs"},
        {"[station 2]", "[staton 2]", "[staton 2]", "got a section that has no meaning here, expected perhaps station"},
        {"replaces = strip steak,", "replaces = stripe steak,", "[compare ready-cut strip steak] replaces",
         "got \"stripe steak\", expected names of cuts in the sheet, perhaps strip steak"},
        {"replaces = strip steak, halved fillet", "replaces = ,", "[compare ready-cut strip steak] replaces",
         "got \",\", expected one or more"},
        {"price = 8.10 USD/lb", "price = -8.10 USD/lb", "[loin] price",
         "got \"-8.10 USD/lb\", expected a price of zero or more"},
        {"grind = 4.60 USD/lb", "grind = 999999999999 USD/lb", "[worth] grind",
         "got \"999999999999 USD/lb\", expected less than 10 million"},
        {"weight = 12 lb 2 oz", "weight = 0 lb", "[loin] weight", "got \"0 lb\", expected a finite value above zero"},
        {"length = 16 1/2 in", "length = ; as it lies", "[loin] length", "got nothing, expected a value behind the ="},
        {"weight = 12 lb 2 oz", "weight =", "[loin] weight", "got nothing, expected a value behind the ="},
        {"title = Friday", "title = Monday\ntitle = Friday", "[sheet] title", "got the same key twice"},
        {"wage = 18.50 USD/h", "wage = 18.50 USD/lb", "[costs] wage", "got \"18.50 USD/lb\", expected a wage"},
        {"wage = 18.50 USD/h", "wages = 18.50 USD/h", "[costs] wages",
         "got a key that has no meaning here, expected perhaps wage"},
        {"time = 35 min", "time = -35 min", "[costs] time", "got \"-35 min\", expected a finite value, zero or more"},
        {"knife wear = 0.60 USD", "frozen = 120 %", "[costs] frozen", "got \"120 %\", expected a share"},
        {"gluteus medius = 8 %", "edible share = 80 %", "[compare ready-cut strip steak] edible share",
         "got \"80 %\", expected either that share, or fat cover"},
        {"edible share = 90 %", "edible share = 0 %", "[offer trimmed loin, Gull Wharf] edible share",
         "got \"0 %\", expected a share above zero"},
        {"yield = 86 %", "yield = 0 %", "[offer trimmed loin, Gull Wharf] yield",
         "got \"0 %\", expected a share above"},
        {"length = 16 1/2 in", "lenght = 16 1/2 in", "[loin] lenght",
         "got a key that has no meaning here, expected perhaps length"},
        {"currency = USD", "currency = dollars", "[sheet] currency",
         "got \"dollars\", expected an ISO 4217 code, three capital letters such as USD"},
        {"silverskin = 1 mm", "kind = lamb loin", "[loin] kind",
         "got \"lamb loin\", expected none where stations are measured"},
        {"silverskin = 1 mm", "temperature on arrival = cold", "[loin] temperature on arrival",
         "got \"cold\", expected a temperature"},
    };
    for (const wrong& c : cases) {
        INFO(c.what << " -> " << c.with);
        const std::string text = replaced(kitchen_sheet, c.what, c.with);
        const auto last = c.with.rfind('\n') == std::string::npos ? 0 : c.with.rfind('\n') + 1;
        CHECK_THAT(error_of(text), StartsWith(c.place + line_of(text, c.with.substr(last)) + ": " + c.said));
    }
}

TEST_CASE("read_sheet: says what is missing, and what is in the way") {
    struct refusal {
        std::string text, said;
        bool begins = true; ///< with that; else it is somewhere in it
    };
    const auto in_kitchen = [](const std::string& what, const std::string& with = "") {
        return replaced(kitchen_sheet, what, with);
    };
    const std::vector<refusal> refusals{
        {"", "[loin]: got no such section"},
        {"[loin]\nweight = 12 lb\n", "[cut ...]: got no such section, expected at least one"},
        {in_kitchen("weight = 12 lb 2 oz\n"), "[loin] weight: got nothing, expected the invoiced weight"},
        {in_kitchen("length = 16 1/2 in\n"), "[loin] length: got nothing, expected the length as it lies"},
        {in_kitchen("gluteus medius from = 13 1/4 in\n"), "[loin] gluteus medius from: got nothing"},
        {in_kitchen("gluteus medius share = 30 %\n"), "[loin] gluteus medius share: got nothing"},
        {in_kitchen("thickness = 1 1/8 in to 1 1/2 in\n"),
         "[cut strip steak] thickness: got nothing, expected a thickness such as"},
        {in_kitchen("price = 15.90 USD/lb\n"), "[cut strip steak] price: got nothing, expected a price"},
        {in_kitchen("yield = 86 %\n"), "[offer trimmed loin, Gull Wharf] yield: got nothing, expected portions"},
        {replaced(weight_only_sheet, "[cut", "[cutting]\nplan for = least giveaway\n[cut"),
         "[cut steak] charged as: got nothing, expected a weight"},
        {in_kitchen("[worth]", "[loin]\n[worth]"), "[loin] (line 83): got the same section twice"},
        {in_kitchen("[worth]", "[loin B]\nweight = 12 lb\n[worth]"),
         "[station 1]: got \"1\", expected the name of its loin and a number"},
        {in_kitchen("[loose strips]", "[loose stripes]"), "[loose stripes]: got \"stripes\", expected loose strips"},
        {in_kitchen("[cutting]", "[cutting"), "got \"[cutting\", expected a ] behind the heading", false},
        {in_kitchen("[cutting]", "[cutting] now"), "got \"[cutting] now\", expected nothing behind the ]", false},
        {in_kitchen("[sheet]"), "title (line 2): got a key, expected a [section] in front of the first key"},
        {in_kitchen("price = 8.10 USD/lb", "eight dollars"), "[loin] line 9: got \"eight dollars\""},
        {replaced(weight_only_sheet, "weight = 12 lb", "weight = 12 lb\nfill = 80 %"),
         "[loin] fill (line 3): got \"80 %\", expected none where no station is measured"},
    };
    for (const refusal& r : refusals) {
        const std::string error = error_of(r.text);
        CAPTURE(error, r.said);
        CHECK((r.begins ? error.starts_with(r.said) : error.find(r.said) != std::string::npos));
    }
    const std::string kind = replaced(weight_only_sheet, "weight = 12 lb", "weight = 12 lb\nkind = beef strip lion");
    CHECK(error_of(kind) ==
          "[loin] kind (line 3): got \"beef strip lion\", expected perhaps beef strip loin; one of beef strip "
          "loin, boneless pork loin, lamb loin, tuna loin");
}

TEST_CASE("read_sheet: takes numbers of portions for every aim, in each form") {
    const std::string text = replaced(kitchen_sheet, "[cut halved fillet]\n", "[cut halved fillet]\nnumber = 2 to 6\n");
    CHECK(read_sheet(text).cuts[1].at_least == 2);
    CHECK(read_sheet(text).cuts[1].at_most == 6);
    for (const auto& [word, meaning] : detail::aim_words()) {
        const std::string aimed = replaced(text, "plan for = best value", "plan for = " + std::string(word));
        CHECK(read_sheet(aimed).plan_for == meaning);
    }
    const auto number = [&](const std::string& words) { return read_sheet(replaced(text, "2 to 6", words)).cuts[1]; };
    for (const char* words : {"4", "exactly 4", "Exactly 4"}) {
        CHECK(number(words).at_least == 4);
        CHECK(number(words).at_most == 4);
    }
    for (const char* words : {"at least 4", "4 or more"}) {
        CHECK(number(words).at_least == 4);
        CHECK_FALSE(number(words).at_most);
    }
    for (const char* words : {"at most 4", "up to 4", "4 or fewer"}) {
        CHECK_FALSE(number(words).at_least);
        CHECK(number(words).at_most == 4);
    }
    for (const char* words : {"-1", "2.5", "some", "6 to 2", "at least", "99999999999", "at most -3"})
        CHECK_THAT(error_of(replaced(text, "2 to 6", words)),
                   StartsWith("[cut halved fillet] number (line ") && ContainsSubstring("got \"" + std::string(words)));
}

TEST_CASE("read_sheet: takes the units of a sheet that does not say them from the scale") {
    const auto units = [](const std::string& weight, const std::string& said = "") {
        const std::string sheet = said.empty() ? "" : "[sheet]\nunits = " + said + "\n";
        return read_sheet(sheet + replaced(weight_only_sheet, "12 lb", weight)).units;
    };
    CHECK(units("12 lb 2 oz") == sheet_units::us);
    CHECK(units("12.31 lb") == sheet_units::decimal_pounds);
    CHECK(units("12.31 pounds") == sheet_units::decimal_pounds);
    CHECK(units("5.6 kg") == sheet_units::metric);
    CHECK(units("5600 g") == sheet_units::metric);
    CHECK(units("12.31 lb", "us") == sheet_units::decimal_pounds);
    CHECK(units("12.31 lb", "metric") == sheet_units::metric);
    CHECK(units("5.6 kg", "us") == sheet_units::us);
    CHECK(units("12 lb", "decimal pounds") == sheet_units::decimal_pounds);
}

TEST_CASE("read_sheet: writes its errors in the units of the sheet") {
    const auto refused = [](const std::string& units) {
        return error_of(
            replaced(replaced(kitchen_sheet, "units = us", "units = " + units), "at = 16 1/2 in", "at = 450 mm"));
    };
    CHECK_THAT(refused("us"), EndsWith("got \"450 mm\", expected at most the length, 16 1/2 in"));
    CHECK_THAT(refused("metric"), EndsWith("got \"450 mm\", expected at most the length, 419 mm"));
}

TEST_CASE("read_sheet: refuses a weight that no loin of the kind has, with its line and in the units of the sheet") {
    const std::string light = "[sheet]\n" + replaced(weight_only_sheet, "12 lb", "1 lb");
    // 4 standard deviations of a logarithm around the kind's weight: most_weight_deviation; computed.
    CHECK_THAT(error_of(light),
               StartsWith("[loin] weight (line 3): got \"1 lb\", expected 6 lb 15 1/4 oz to 20 lb 6 3/4 oz") &&
                   ContainsSubstring("for beef strip loin"));
    CHECK_THAT(error_of(replaced(weight_only_sheet, "12 lb", "3 g")),
               StartsWith("[loin] weight (line 2): got \"3 g\", expected 3.147 kg to 9.266 kg"));
    CHECK_THAT(error_of(replaced(weight_only_sheet, "12 lb", "12 lb\nweight on the board = 1 lb")),
               StartsWith("[loin] weight on the board (line 3): got \"1 lb\""));
    CHECK_THAT(error_of(replaced(weight_only_sheet, "12 lb", "3000 kg")), ContainsSubstring("expected 3.147 kg"));
}

TEST_CASE(
    "read_sheet: of several thicknesses the last may have the unit of all, and a cut is sent to where they stand") {
    const std::string cutting = weight_only_sheet + "[cutting]\nthicknesses = ";
    for (const std::string several :
         {"3/4, 1, 1 1/4 in", "3/4 in, 1 in, 1 1/4 in", "¾, 1, 1¼\"", "0.75, 1, 1.25 inches"}) {
        INFO(several);
        CHECK(read_sheet(cutting + several + '\n').thicknesses == std::vector<length>{0.75_in, 1_in, 1.25_in});
    }
    CHECK_THAT(error_of(cutting + "3/4, 1, 1 1/4\n"), ContainsSubstring("[cutting] thicknesses"));
    CHECK_THAT(error_of(replaced(weight_only_sheet, "thickness = 1 in", "thickness = 3/4, 1, 1 1/4 in")),
               StartsWith("[cut steak] thickness (line 4): got \"3/4, 1, 1 1/4 in\"") &&
                   ContainsSubstring("thicknesses in [cutting]"));
}

TEST_CASE("read_sheet: lets no control byte reach a terminal, and says what is not UTF-8") {
    const std::string bell = "\x1b]0;pwn\x07\x1b[31m";
    const auto clean = [](const std::string& text) {
        return std::none_of(text.begin(), text.end(), [](char c) {
            return static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) == 0x7F;
        });
    };
    CHECK(clean(read_sheet(replaced(kitchen_sheet, "title = Friday", "title = " + bell)).title));
    for (const auto& [what, with] :
         std::vector<std::pair<std::string, std::string>>{{"currency = USD", "currency = " + bell},
                                                          {"price = 9.80 USD/lb", bell + " = 1"},
                                                          {"[worth]", bell},
                                                          {"[worth]", "[" + bell + "]"}}) {
        const std::string error = error_of(replaced(kitchen_sheet, what, with));
        CHECK(error != "no error");
        CHECK(clean(error));
    }
    for (const std::string& mark :
         {std::string("\xFE\xFF\0[", 4), std::string("\xFF\xFE[\0", 4), std::string("[\0s\0", 4)})
        CHECK_THAT(error_of(mark), StartsWith("the sheet: got text in UTF-16") && ContainsSubstring("UTF-8"));
}

TEST_CASE("read_sheet: refuses a name that nothing could show, and more than anybody writes") {
    const std::string error =
        error_of(replaced(kitchen_sheet, "[cut end steak]", "[cut " + std::string(5000, 'y') + "]"));
    CHECK_THAT(error, StartsWith("[cut yyy") && ContainsSubstring("expected at most 120"));
    CHECK(error.size() < 120);
    CHECK_THAT(error_of(std::string(300'000, 'x')), StartsWith("line 1: got 300000 bytes"));
    CHECK_THAT(error_of("[sheet]\ntitle = " + std::string(3000, 'x') + '\n' + weight_only_sheet),
               StartsWith("[sheet] title (line 2): got \"xxx") && ContainsSubstring("expected at most 2000 bytes"));
    std::string many = weight_only_sheet;
    for (int i = 0; i < 200; ++i) many += "[cut steak " + std::to_string(i) + "]\nthickness = 1 in\n";
    CHECK_THAT(error_of(many), ContainsSubstring("more than 100 of its kind"));
}

} // namespace read_sheet_test
