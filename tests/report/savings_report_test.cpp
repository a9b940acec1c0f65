// The tables, files and pictures of savings and offers.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/savings_csv.hpp>
#include <tranche/report/pictures/waterfall.hpp>
#include <tranche/report/pictures/what_if_picture.hpp>
#include <tranche/report/tables/savings_tables.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "report/csv_reading.hpp"
#include "report/sample.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace savings_report_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

struct sample {
    cutting_plan cuts = mixed_plan(meat());
    bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    savings<usd> saved = make_or_buy(
        ready_cut<usd>{.name = "ready-cut & trimmed",
                       .price = per_lb<usd>(14.0),
                       .replaces = {"strip steak"},
                       .edible_share = 0.8},
        cuts, settled,
        {.prices = prices<usd>(), .costs = {.time = 35.0 * minute, .pay = 18.0_usd / 1_h, .packaging = 0.14_usd}});
    std::vector<cost_step<usd>> steps = cost_breakdown(saved, settled.test);
    savings_grid<usd> grid = tabulate_savings(saved, stepped(saved.terms.bought.price, per_lb<usd>(2.0), 3),
                                              stepped(saved.terms.yield(), 0.02, 3, 0.01, 1.0)); // saves and loses

    /// Which column of the grid is the price paid; its row is the fourth of seven.
    [[nodiscard]] std::size_t paid() const {
        const auto found = std::find(grid.prices.begin(), grid.prices.end(), grid.price);
        REQUIRE(found != grid.prices.end());
        return static_cast<std::size_t>(found - grid.prices.begin());
    }
};

std::vector<ranked_offer<usd>> ranked() {
    return rank_offers<usd>(
        {offer_at_yield<usd>("near, \"trimmed\"", {5.0_lb, per_lb<usd>(9.0)}, {.yield = 0.9}),
         offer_at_yield<usd>("far", {5.0_lb, per_lb<usd>(8.0)}, {.yield = 0.7, .rest = per_lb<usd>(2.0)})},
        10.0_oz);
}

/// Letters are no wider than the estimate that the pictures are laid out with (tested in svg_test and by eye).
double width_of_text(const xml_element& e) {
    return e.number("font-size") * detail::ems_of(e.text) * (e.attributes.at("font-weight") == "bold" ? 1.1 : 1.0);
}

/// No two texts of a picture cover each other, and none leaves it.
void check_labels(const std::vector<xml_element>& elements) {
    struct box {
        double left, right, top, bottom;
        std::string text;
    };
    std::vector<box> boxes;
    for (const xml_element& e : elements) {
        if (e.name != "text") continue;
        const double w = width_of_text(e), x = e.number("x"), y = e.number("y"), size = e.number("font-size");
        const std::string anchor = e.attributes.at("text-anchor");
        const double left = anchor == "start" ? x : anchor == "end" ? x - w : x - 0.5 * w;
        boxes.push_back({left, left + w, y - 0.75 * size, y + 0.2 * size, e.text});
    }
    const double height = elements.front().number("height");
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        INFO(boxes[i].text);
        CHECK((boxes[i].left >= 0.0 && boxes[i].right <= 960.5 && boxes[i].top >= 0.0 && boxes[i].bottom <= height));
        for (std::size_t k = 0; k < i; ++k) {
            INFO(boxes[k].text);
            CHECK((boxes[i].right <= boxes[k].left + 0.5 || boxes[k].right <= boxes[i].left + 0.5 ||
                   boxes[i].bottom <= boxes[k].top || boxes[k].bottom <= boxes[i].top));
        }
    }
}

void check_alone(const std::string& picture, const std::string& name) {
    const auto elements = parse_xml(picture);
    REQUIRE(elements.front().name == "svg");
    CHECK(elements.front().attributes.at("role") == "img");
    CHECK(elements.front().attributes.at("aria-labelledby") == name + "-title " + name + "-desc");
    CHECK(fetched(picture).empty());
    std::set<std::string> ids;
    for (const xml_element& e : elements)
        if (const auto found = e.attributes.find("id"); found != e.attributes.end()) {
            CHECK(found->second.rfind(name + '-', 0) == 0);
            CHECK(ids.insert(found->second).second);
        }
    check_labels(elements);
}

} // namespace

TEST_CASE("a waterfall draws every step from where the one before it ended") {
    const sample s;
    const std::string picture = waterfall_svg(s.steps, s.saved.against);
    check_alone(picture, "waterfall");
    const auto elements = parse_xml(picture);
    std::vector<xml_element> bars;
    for (const xml_element& e : elements)
        if (e.kind() == "step" || e.kind() == "total")
            if (e.name == "rect") bars.push_back(e);
    REQUIRE(bars.size() == s.steps.size());
    const auto links = of_kind(elements, "link");
    REQUIRE(links.size() + 1 == bars.size());
    // The scale, from the first total: its bar reaches from zero to what was paid.
    const auto paid = std::find_if(s.steps.begin(), s.steps.end(), [](const auto& step) { return step.total; });
    const double scale = bars[static_cast<std::size_t>(paid - s.steps.begin())].number("width") /
                         std::abs(to_money(paid->change).value());
    for (std::size_t i = 0; i < bars.size(); ++i) {
        // Four decimals in the file, and a bar is never thinner than 0.75.
        const double expected = std::max(0.75, scale * std::abs(to_money(s.steps[i].change).value()));
        CHECK_THAT(bars[i].number("width"), WithinAbs(expected, 1e-3));
        const double from = bars[i].number("x"), to = from + bars[i].number("width");
        if (i < links.size()) {
            const double at = links[i].number("x1");
            CHECK((std::abs(at - from) < 1e-3 || std::abs(at - to) < 1e-3 || bars[i].number("width") < 0.7501));
        }
    }
    const auto values = of_kind(elements, "value");
    for (std::size_t i = 0; i < s.steps.size(); ++i) {
        const std::string number = detail::number_of(s.steps[i].change);
        const bool plus = !s.steps[i].total && s.steps[i].change > amount<usd>{};
        CHECK(values[i].text == (plus ? "+" : "") + number);
        // In words as well.
        CHECK_THAT(picture, ContainsSubstring(detail::escape_xml(s.steps[i].text + ' ' + number)));
    }
    CHECK_THAT(picture, ContainsSubstring("against ready-cut &amp; trimmed"));
}

TEST_CASE("a waterfall keeps its labels apart with long names, large sums and none at all") {
    sample s;
    for (auto& step : s.steps) step.text += std::string(60, 'W');
    check_alone(waterfall_svg(s.steps, std::string(200, 'M'), "other"), "other");
    const bill<jpy> dear = settle(s.cuts, bought<jpy>(1e9), prices<jpy>(1e9));
    const auto saved = make_or_buy(ready_cut<jpy>{"ready", per_lb<jpy>(3e9)}, s.cuts, dear);
    check_alone(waterfall_svg(cost_breakdown(saved, dear.test), "ready"), "waterfall");
    const bill<bhd> cheap = settle(s.cuts, bought<bhd>(1e-9));
    const auto nothing = make_or_buy(ready_cut<bhd>{"ready", {}}, s.cuts, cheap);
    check_alone(waterfall_svg(cost_breakdown(nothing, cheap.test), "ready"), "waterfall");
    CHECK_THROWS_WITH(waterfall_svg(std::vector<cost_step<usd>>{}, "ready"), StartsWith("steps: got none"));
    const std::string alone = waterfall_svg(cost_breakdown(cheap.test), "");
    check_alone(alone, "waterfall");
    CHECK_THAT(alone,
               ContainsSubstring(">Where the money went<") && ContainsSubstring("left for the portions to carry"));
    const report_table table = cost_breakdown_table(cost_breakdown(cheap.test), us_kitchen, "Where the money went");
    CHECK(table.columns.front().head == "Where the money went");
    CHECK(table.rows.back().cells.front() == "left for the portions to carry");
}

TEST_CASE("a what-if picture has a cell for each price and yield, and marks what is lost") {
    const sample s;
    const std::size_t prices = s.grid.prices.size(), cells = 7 * prices;
    REQUIRE(prices >= 4); // three steps of which reach the break-even price
    REQUIRE(s.grid.yields.size() == 7);
    const std::string picture = savings_grid_svg(s.grid);
    check_alone(picture, "what-if");
    const auto elements = parse_xml(picture);
    CHECK(of_kind(elements, "cell").size() == cells);
    std::size_t lost = 0;
    for (const auto& row : s.grid.net_saving)
        for (const amount<usd> a : row) lost += a < amount<usd>{} ? 1U : 0U;
    CHECK(of_kind(elements, "loss").size() == lost);
    REQUIRE(lost > 0);
    REQUIRE(lost < cells);
    const auto here = of_kind(elements, "here");
    REQUIRE(here.size() == 1);
    CHECK(here[0].text == detail::number_of(s.saved.net_saving));
    CHECK(here[0].attributes.at("font-weight") == "bold");
    // A thick line between each pair of neighbours of which one saves and the other loses.
    std::size_t turns = 0;
    for (std::size_t i = 0; i < 7; ++i)
        for (std::size_t k = 0; k < prices; ++k) {
            const bool saves = s.grid.net_saving[i][k] >= amount<usd>{};
            if (k > 0) turns += saves != (s.grid.net_saving[i][k - 1] >= amount<usd>{});
            if (i > 0) turns += saves != (s.grid.net_saving[i - 1][k] >= amount<usd>{});
        }
    CHECK(of_kind(elements, "turn").size() == turns);
    check_alone(savings_grid_svg(s.grid, metric_kitchen, "metric"), "metric");
    CHECK_THROWS_WITH(savings_grid_svg(savings_grid<usd>{}), StartsWith("grid: got an empty one"));
}

TEST_CASE("a grid around a saving holds it, and fewer prices where the figures are wide") {
    const sample s;
    CHECK(s.grid.net_saving[3][s.paid()] == s.saved.net_saving);
    const bill<jpy> dear = settle(s.cuts, bought<jpy>(1e9), prices<jpy>(1e9));
    const auto saved = make_or_buy(ready_cut<jpy>{"ready", per_lb<jpy>(3e9)}, s.cuts, dear);
    const auto wide = savings_grid_around(saved, us_kitchen).value();
    CHECK(wide.prices.size() < 5);
    CHECK(wide.prices.size() >= 2);
    check_alone(savings_grid_svg(wide), "what-if");
    savings<usd> none = s.saved;
    none.terms.portions = {};
    CHECK_FALSE(savings_grid_around(none, us_kitchen).has_value());
    none = s.saved;
    none.terms.ready_price = none.terms.bought.price = {};
    CHECK_FALSE(savings_grid_around(none, us_kitchen).has_value());
}

TEST_CASE("a grid around a saving steps as people ask: by round steps of about a twentieth of the price") {
    const sample s;
    const auto heads = [&](savings<usd> saved, unit_price<usd> paid, const kitchen_units& units) {
        saved.terms.bought.price = paid;
        std::vector<std::string> all;
        const savings_grid<usd> grid = savings_grid_around(saved, units).value();
        for (const unit_price<usd>& price : grid.prices) all.push_back(detail::price_number<usd>(price, units));
        return all;
    };
    CHECK(heads(s.saved, per_lb<usd>(8.10), us_kitchen) ==
          std::vector<std::string>{"7.10", "7.60", "8.10", "8.60", "9.10"});
    CHECK(heads(s.saved, 17.90_usd / 1_kg, metric_kitchen) ==
          std::vector<std::string>{"15.90", "16.90", "17.90", "18.90", "19.90"});
    CHECK(heads(s.saved, 1790.0_usd / 1_kg, metric_kitchen) ==
          std::vector<std::string>{"1590.00", "1690.00", "1790.00", "1890.00", "1990.00"});
}

TEST_CASE("the tables of a saving lead from what was paid and from the gross to the net saving") {
    const sample s;
    const report_table money = cost_breakdown_table(s.steps, us_kitchen);
    REQUIRE(money.rows.size() == s.steps.size());
    for (std::size_t i = 0; i < s.steps.size(); ++i) {
        CHECK(money.rows[i].cells[0] == s.steps[i].text);
        CHECK(money.rows[i].cells[2] == (s.steps[i].total ? "" : detail::number_of(s.steps[i].change)));
        CHECK(money.rows[i].cells[3] == detail::number_of(s.steps[i].level));
        CHECK(money.rows[i].total == s.steps[i].total);
    }
    const report_table difference = difference_table(s.saved, us_kitchen);
    REQUIRE(difference.rows.size() == s.saved.differences.size() + 2);
    CHECK(difference.rows.front().cells[2] == detail::number_of(s.saved.gross_saving));
    CHECK(difference.rows.back().cells[2] == detail::number_of(s.saved.net_saving));
    const report_table grid = savings_grid_table(s.grid, us_kitchen);
    REQUIRE(grid.rows.size() == 7);
    CHECK(grid.rows[3].cells[1 + s.paid()] == detail::number_of(s.saved.net_saving));
    CHECK(grid.columns[1 + s.paid()].head == "8.10");
    CHECK(grid.rows[3].cells[0] == percent_text(s.saved.terms.yield()));
}

TEST_CASE("the table of break-evens says what happens where there is none") {
    const sample s;
    const auto value_of = [&](const savings<usd>& saved, const std::string& what) {
        for (const auto& row : break_even_table(saved, us_kitchen).rows)
            if (row.cells[0] == what) return row.cells[1];
        return std::string("not there");
    };
    CHECK(value_of(s.saved, "Break-even wage") != "not there");
    CHECK(value_of(s.saved, "Wanted of ready-cut & trimmed, by weight") == "80.0 %");
    savings<usd> hopeless = s.saved;
    hopeless.terms.costs_of_loin = 1e6_usd;
    for (const char* what : {"Break-even wage", "Break-even price of the whole loin", "Break-even yield of portions"})
        CHECK(value_of(hopeless, what) == "none: it never saves");
    savings<usd> sure = s.saved;
    sure.terms.by_products = 1e6_usd;
    CHECK(value_of(sure, "Break-even price of ready-cut & trimmed") == "none: it saves anyway");
    sure.terms.time = {};
    CHECK(value_of(sure, "Break-even wage") == "not there");
}

TEST_CASE("savings, what-ifs and offers read back from CSV exactly") {
    const sample s;
    const records rows = read_csv(savings_csv<usd>({s.saved}, s.settled.test));
    std::int64_t money = 0, gross = 0, difference = 0;
    std::vector<std::int64_t> totals;
    for (const auto& row : rows) {
        CHECK(row.size() == rows[0].size());
        const std::string list = row[column(rows, "list")];
        if (list == "list") continue;
        CHECK(row[column(rows, "against")] == "ready-cut & trimmed");
        const std::int64_t cents = digits_of(row[column(rows, "value")], 2);
        if (list == "money") money += cents;
        if (list == "total") totals.push_back(cents);
        if (list == "gross") gross = cents;
        if (list == "difference") difference += cents;
    }
    REQUIRE(totals.size() == 2);
    CHECK(totals[0] == -s.settled.test.paid.minor);
    CHECK(totals[1] == s.saved.net_saving.minor);
    CHECK(money == s.saved.net_saving.minor);
    CHECK(gross == s.saved.gross_saving.minor);
    CHECK(gross + difference == s.saved.net_saving.minor);

    const records cells = read_csv(savings_grid_csv<usd>({s.grid}));
    REQUIRE(cells.size() == 1 + 7 * s.grid.prices.size());
    CHECK(digits_of(cells[1 + 3 * s.grid.prices.size() + s.paid()][column(cells, "net_saving")], 2) ==
          s.saved.net_saving.minor);

    const auto offers = ranked();
    const records offered = read_csv(offers_csv<usd>(offers));
    REQUIRE(offered.size() == 3);
    CHECK(offered[1][column(offered, "rank")] == "1");
    for (std::size_t k = 0; k < 2; ++k) {
        CHECK(offered[k + 1][column(offered, "offer")] == offers[k].offer.name);
        CHECK(digits_of(offered[k + 1][column(offered, "cost_per_portion")], 2) == offers[k].cost_per_portion.minor);
    }
    const report_table table = offers_table(offers, us_kitchen);
    REQUIRE(table.rows.size() == 2);
    CHECK(table.rows[0].cells[6] == detail::number_of(offers[0].cost_per_portion));
}

TEST_CASE("a saving of exactly nothing is not called a loss") {
    sample s;
    const auto last_line = [&](std::int64_t minor) {
        s.saved.net_saving = {minor};
        return difference_table(s.saved, us_kitchen).rows.back().cells[0];
    };
    CHECK(last_line(1) == "saved by cutting");
    CHECK(last_line(0) == "saved by cutting");
    CHECK(last_line(-1) == "lost by cutting");
}

TEST_CASE("the what-if table says in what its prices are and which way it reads") {
    const sample s;
    CHECK(savings_grid_table(s.grid, us_kitchen).caption ==
          "What if: saved at other prices of the whole loin (across, USD/lb) and other yields of portions (down)");
    CHECK_THAT(savings_grid_table(s.grid, metric_kitchen).caption, ContainsSubstring("(across, USD/kg)"));
}

TEST_CASE("stripes run one way and a cross both, and what is filled with a pattern finds it") {
    const sample s;
    for (const std::string& picture : {waterfall_svg(s.steps, s.saved.against), savings_grid_svg(s.grid)}) {
        std::map<std::string, std::vector<std::pair<double, double>>> bars; // of each pattern, wide and high
        std::string pattern;
        for (const xml_element& e : parse_xml(picture)) {
            if (e.name == "pattern") {
                pattern = e.attributes.at("id");
                CHECK(e.number("width") == e.number("height"));
            } else if (e.name == "rect" && !pattern.empty() && bars[pattern].size() < 2 && e.number("width") <= 7.0 &&
                       e.number("height") <= 7.0) {
                bars[pattern].emplace_back(e.number("width"), e.number("height"));
            } else {
                pattern.clear();
            }
            if (const auto fill = e.attributes.find("fill");
                fill != e.attributes.end() && fill->second.rfind("url(#", 0) == 0)
                CHECK(bars.count(fill->second.substr(5, fill->second.size() - 6)) == 1);
        }
        REQUIRE(bars.size() == 2);
        for (const auto& [id, found] : bars) {
            const bool cross = id.find("cross") != std::string::npos;
            REQUIRE(found.size() == (cross ? 2 : 1));
            CHECK(found[0] == std::pair{2.0, 7.0});
            if (cross) CHECK(found[1] == std::pair{7.0, 2.0});
        }
    }
}

} // namespace savings_report_test
