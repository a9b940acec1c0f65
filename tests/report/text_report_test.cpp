// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/text_report.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/units/chosen_currency.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "report/sample.hpp"
#include "support/catch.hpp"

namespace text_report_test {

using namespace report_sample;
using namespace tranche_test;

namespace {

void check_width(const std::string& report) {
    std::istringstream lines(report);
    for (std::string line; std::getline(lines, line);) {
        INFO(line);
        // Counted by itself: every byte that does not continue a UTF-8 character starts one.
        std::size_t characters = 0;
        for (const char c : line) characters += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1U : 0U;
        CHECK(characters <= 80);
        CHECK((line.empty() || line.back() != ' '));
    }
    CHECK(report.back() == '\n');
}

template <currency C>
void check_every_kitchen(double dearer) {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<C> settled = settle(cuts, bought<C>(dearer), prices<C>(dearer));
    kitchen_units ounces = us_kitchen;
    ounces.basis = price_basis::per_ounce;
    for (const kitchen_units& units : {us_kitchen, metric_kitchen, ounces}) {
        const std::string report =
            text_report(as_given(cuts), settled, {.saved = comparisons(cuts, settled, dearer), .units = units});
        check_width(report);
        CHECK_THAT(report, ContainsSubstring(to_text(settled.test.paid)));
        CHECK_THAT(report, ContainsSubstring(to_text(settled.test.primary_value)));
    }
}

/// The number in a cell of a column of masses, which has no unit of its own but with pounds and ounces.
mass mass_in(const std::string& cell, mass_division how) {
    const std::string unit = detail::unit_name(how);
    return from_text<mass>(unit.empty() ? cell : cell + ' ' + unit);
}

/// Amounts in a cell: "8.31" twice, or both ends of "8.31–8.32".
template <currency C>
std::pair<amount<C>, amount<C>> amounts_in(const std::string& cell) {
    const std::string dash = "–", code = ' ' + std::string(C::code);
    const std::size_t at = cell.find(dash);
    if (at == std::string::npos) return {from_text<amount<C>>(cell + code), from_text<amount<C>>(cell + code)};
    return {from_text<amount<C>>(cell.substr(0, at) + code),
            from_text<amount<C>>(cell.substr(at + dash.size()) + code)};
}

/// What the tables show, read back: money adds up exactly, masses and shares to half a step a row.
template <currency C>
void check_numbers(double dearer) {
    cutting_plan cuts = mixed_plan(meat());
    cuts.specs[1].pieces = 7; // so that costs differ within a cut
    const bill<C> settled = settle(cuts, bought<C>(dearer), prices<C>(dearer));
    const portion_costs costs = costs_of(cuts, settled);
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        const double portion_step = detail::step_of(units.portion) / gram,
                     bulk_step = detail::step_of(units.bulk) / gram;
        const report_table slabs = slabs_table(cuts, units, costs);
        REQUIRE(slabs.rows.size() == cuts.slabs.size());
        const std::size_t columns = slabs.columns.size();
        amount<C> least{}, most{};
        mass cut{};
        double pieces = 0.0;
        for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
            const slab& s = cuts.slabs[i];
            const std::vector<std::string>& cells = slabs.rows[i].cells;
            REQUIRE(cells.size() == columns);
            const double count = s.kind == slab_kind::portions ? cuts.spec_of(s).pieces : 1;
            const std::string lead = count > 1.0 ? std::to_string(cuts.spec_of(s).pieces) + " × " : "";
            REQUIRE(cells[4].compare(0, lead.size(), lead) == 0);
            cut += count * mass_in(cells[4].substr(lead.size()), units.portion);
            if (!cells[5].empty()) cut += mass_in(cells[5], units.portion);
            cut += to_mass(s.cutting_loss);
            pieces += count + 1.0;
            if (s.kind != slab_kind::portions) {
                CHECK(cells.back().empty());
                continue;
            }
            const auto [low, high] = amounts_in<C>(cells.back());
            for (const costed_portion<C>& p : settled.portions) {
                if (p.slab != i) continue;
                CHECK(low <= p.cost);
                CHECK(p.cost <= high);
                least += low;
                most += high;
            }
        }
        CHECK_THAT(cut / gram, WithinAbs(to_mass(cuts.total) / gram, 0.5 * portion_step * pieces + 1e-6));
        CHECK(least <= settled.test.primary_value);
        CHECK(settled.test.primary_value <= most);

        const report_table portions = portions_table(cuts, units, costs);
        long counted = 0;
        mass together{};
        for (const report_table::row& row : portions.rows) {
            const long count = std::stol(row.cells[1]);
            if (row.total) {
                CHECK(count == counted);
                const double rows = static_cast<double>(portions.rows.size());
                CHECK_THAT(mass_in(row.cells[2], units.bulk) / gram,
                           WithinAbs(together / gram, 0.5 * bulk_step * rows + 1e-6));
                continue;
            }
            counted += count;
            const mass all = mass_in(row.cells[2], units.bulk);
            together += all;
            const double each = all / gram / static_cast<double>(count), off = 0.5 * (portion_step + bulk_step);
            CHECK(mass_in(row.cells[3], units.portion) / gram <= each + off);
            CHECK(mass_in(row.cells[4], units.portion) / gram >= each - off);
        }
        CHECK(portions.rows.back().total);
        CHECK(static_cast<std::size_t>(counted) == cuts.portion_count());

        for (const report_table& table : {yield_lines_table(settled, units), mass_table(cuts, units)}) {
            mass weights{};
            double shares = 0.0;
            amount<C> credits{};
            const bool billed = table.columns.size() == 5;
            for (const report_table::row& row : table.rows) {
                const mass weight = mass_in(row.cells[1], units.bulk);
                const double share = from_text<fraction>(row.cells[2]), rows = static_cast<double>(table.rows.size());
                const amount<C> credit =
                    billed && !row.cells[4].empty() ? amounts_in<C>(row.cells[4]).first : amount<C>{};
                if (row.total) {
                    CHECK_THAT(weight / gram, WithinAbs(weights / gram, 0.5 * bulk_step * rows + 1e-6));
                    CHECK_THAT(share, WithinAbs(shares, 0.0005 * rows + 1e-9));
                    CHECK(row.cells[2] == "100.0 %");
                    CHECK(credit == credits);
                }
                weights += weight;
                shares += share;
                credits += credit;
            }
            CHECK(table.rows.back().total);
        }
        // The report shows these very tables.
        const std::string report = text_report(as_given(cuts), settled, {.units = units});
        for (const report_table& table : {slabs, portions, yield_lines_table(settled, units)})
            CHECK_THAT(report, ContainsSubstring(text_table(table)));
    }
}

/// All white space as single spaces, so that wrapping does not hide a sentence.
std::string flat(const std::string& text) {
    std::string result;
    for (const char c : text)
        if (c != '\n' && c != ' ')
            result += c;
        else if (!result.empty() && result.back() != ' ')
            result += ' ';
    return result;
}

} // namespace

TEST_CASE("a report in a chosen currency says what one in the type of that currency says") {
    const tranche::planned planned = as_given(mixed_plan(meat()));
    const auto written = [&]<currency C>(C, double dearer) {
        const bill<C> settled = settle(planned.plan, bought<C>(dearer), prices<C>(dearer));
        return text_report(planned, settled) + slabs_csv(planned.plan, settled) + account_csv(settled);
    };
    const auto check = [&]<currency C>(C, double dearer) {
        const currency_choice choice(iso_currency_named(C::code));
        CHECK(written(chosen_currency{}, dearer) == written(C{}, dearer));
    };
    check(jpy{}, 150.0);
    check(usd{}, 1.0);
    check(bhd{}, 0.4);
}

TEST_CASE("the report says what the edible part of the portions costs by weight") {
    const profile loin = meat();
    const cutting_plan cuts = mixed_plan(loin);
    const bill<usd> settled = settle<usd>(cuts, bought<usd>(), prices<usd>());
    const auto line_for = [&](const edible_basis& basis) {
        const std::string cost = detail::price_text<usd>(*edible_portion_cost(cuts, settled, basis), us_kitchen);
        const std::string report = text_report(as_given(cuts), settled, {.basis = basis});
        const auto at = report.find("Cost of the edible part of them by weight");
        REQUIRE(at != std::string::npos);
        return std::pair{report.substr(at, report.find('\n', at) - at), cost};
    };
    for (const edible_basis& basis : {edible_basis{}, edible_basis{{{1.0, 0.0, 0.0, 0.0, 0.0}}}}) {
        const auto [line, cost] = line_for(basis);
        CHECK_THAT(line, EndsWith(cost));
    }
}

TEST_CASE("a report fits 80 columns in every currency and kitchen") {
    check_every_kitchen<usd>(1.0);
    check_every_kitchen<eur>(0.9);
    check_every_kitchen<gbp>(0.8);
    check_every_kitchen<cad>(1.4);
    check_every_kitchen<aud>(1.5);
    check_every_kitchen<jpy>(150.0);
    check_every_kitchen<bhd>(0.377);
}

TEST_CASE("a report fits 80 columns with long names and big numbers") {
    cutting_plan cuts = mixed_plan(meat());
    cuts.specs[0].name = std::string(150, 'M');
    cuts.specs[1].name =
        "Größe Söhne's fillet of the middle, stripped of its fat cover and halved into two small pieces";
    cuts.specs[2].name = "端のステーキ端のステーキ端のステーキ端のステーキ端のステーキ";
    const bill<jpy> settled = settle(cuts, bought<jpy>(1e9), prices<jpy>(1e9));
    savings<jpy> saved = make_or_buy(ready_cut<jpy>{std::string(100, 'W'), per_lb<jpy>(3e9)}, cuts, settled);
    const std::string report = text_report(as_given(cuts), settled, {.saved = {saved}, .units = metric_kitchen});
    check_width(report);
    std::istringstream lines(report);
    for (std::string line; std::getline(lines, line);) CHECK(detail::columns_of(line) <= 80);
    // Nothing is left out.
    std::size_t letters = 0;
    for (const char c : report) letters += c == 'M' ? 1U : 0U;
    CHECK(letters >= 3 * 150);
    CHECK_THAT(flat(report), ContainsSubstring("Größe Söhne's"));
}

TEST_CASE("a report of a loin with many slabs counts all of them") {
    const profile loin = meat();
    const cut_spec thin{.name = "thin", .thickness = 3.0_mm, .gluteus_medius = any_gluteus_medius};
    const tranche::planned planned = most_portions(loin, thin);
    REQUIRE(planned.plan.slabs.size() > 100);
    const std::string report = text_report(planned, metric_kitchen);
    check_width(report);
    CHECK_THAT(report, ContainsSubstring("\n" + std::to_string(planned.plan.slabs.size()) + "  "));
}

TEST_CASE("the numbers of a report add up as they are shown") {
    check_numbers<usd>(1.0);
    check_numbers<jpy>(150.0);
    check_numbers<bhd>(0.377);
}

TEST_CASE("a report says to which step each kind of quantity is rounded") {
    const tranche::planned planned = as_given(mixed_plan(meat()));
    CHECK_THAT(
        flat(text_report(planned, us_kitchen)),
        ContainsSubstring("Weights are shown to the nearest 1/4 oz, lengths to the nearest 1/16 in. Weights are"));
    CHECK_THAT(flat(text_report(planned, metric_kitchen)),
               ContainsSubstring("Weights are shown to the nearest 1 g, lengths to the nearest 1 mm. Weights are"));
    kitchen_units mixed = us_kitchen;
    mixed.bulk = hundredths_of_pound;
    mixed.thickness = tenths_of_millimetre;
    CHECK_THAT(
        flat(text_report(planned, mixed)),
        ContainsSubstring("to the nearest 1/4 oz, together to the nearest 0.01 lb, lengths to the nearest 1/16 in, "
                          "how thick to the nearest 0.1 mm. Sums are"));
}

TEST_CASE("a trace of gluteus medius is not shown as none") {
    cutting_plan cuts = mixed_plan(meat());
    slab& s = cuts.slabs[1];
    s.kept = {};
    s.kept[tissue::eye] = {999'000'000};
    s.kept[tissue::gluteus_medius] = {1'000'000};
    const auto shown_for = [&] { return slabs_table(cuts, us_kitchen).rows[1].cells.back(); };
    CHECK(shown_for() == "under 1 %");
    s.kept[tissue::gluteus_medius] = {20'000'000};
    CHECK(shown_for() == "2 %");
    s.kept[tissue::gluteus_medius] = {};
    CHECK(shown_for().empty());
}

TEST_CASE("a report says what each slab is, where it starts and what it weighs") {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    std::istringstream lines(text_report(as_given(cuts), settled));
    std::vector<std::string> rows;
    for (std::string line; std::getline(lines, line);) rows.push_back(line);
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const slab& s = cuts.slabs[i];
        const std::string start = to_text(s.start, sixteenths_of_inch);
        const std::string lead = (i < 9 ? "  " : " ") + std::to_string(i + 1) + "  " + detail::what_is(s, cuts) + "  ";
        bool found = false;
        for (const std::string& row : rows)
            found |= row.compare(0, lead.size(), lead) == 0 &&
                     row.find("  " + start.substr(0, start.size() - 3) + "  ") != std::string::npos &&
                     row.find("  " + detail::weight_text(s, cuts, us_kitchen)) != std::string::npos;
        INFO(lead << " at " << start);
        CHECK(found);
    }
}

TEST_CASE("law: distances and thicknesses add up as they are shown, and are off by a step at most") {
    cutting_plan cuts = mixed_plan(meat());
    for (const double shift : {0.0, 0.1, 0.25, 0.33, 0.5, 0.75}) // of a sixteenth, so that roundings fall anywhere
        for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
            cutting_plan moved = cuts;
            for (slab& s : moved.slabs) {
                if (s.start > length{}) s.start += shift / 16.0 * inch;
                s.kerf = length{};
            }
            for (std::size_t i = 0; i + 1 < moved.slabs.size(); ++i)
                moved.slabs[i].thickness = moved.slabs[i + 1].start - moved.slabs[i].start;
            const report_table table = slabs_table(moved, units);
            const std::string unit = ' ' + std::string(detail::unit_name(units.along));
            const auto shown = [&](std::size_t row, std::size_t column) {
                return detail::steps_of(from_text<length>(table.rows[row].cells[column] + unit), units.along);
            };
            for (std::size_t i = 0; i < moved.slabs.size(); ++i) {
                if (i > 0) CHECK(shown(i, 2) == shown(i - 1, 2) + shown(i - 1, 3));
                const double step = detail::step_of(units.along).value();
                CHECK(std::abs(static_cast<double>(shown(i, 3)) * step - moved.slabs[i].thickness.value()) <=
                      step + 1e-9);
            }
        }
    // Of divisions that differ each is shown by itself.
    kitchen_units fine = us_kitchen;
    fine.thickness = {length_division::unit::inches, 64};
    CHECK(detail::shown_thickness(cuts.slabs[1], fine) == cuts.slabs[1].thickness);
}

TEST_CASE("readable_units: a kitchen's units stay, and get finer where a plan would read as nothing") {
    const profile loin = meat();
    CHECK(readable_units(us_kitchen, mixed_plan(loin)) == us_kitchen);
    CHECK(readable_units(metric_kitchen, mixed_plan(loin)) == metric_kitchen);
    cutting_plan tiny = mixed_plan(loin);
    for (slab& s : tiny.slabs) {
        for (const tissue t : all_tissues) s.kept[t].count /= 2000;
        s.start /= 12.0, s.thickness /= 12.0;
    }
    tiny.total.count /= 2000;
    const kitchen_units units = readable_units(us_kitchen, tiny);
    for (const slab& s : tiny.slabs) {
        if (s.kind != slab_kind::portions) continue;
        CHECK(to_mass(tiny.portions_of(s).back()) / detail::step_of(units.portion) >= 4.0);
        CHECK(s.thickness / detail::step_of(units.thickness) >= 2.0 - 1e-9);
    }
    CHECK(units.along.in == length_division::unit::inches);
    cutting_plan huge = mixed_plan(loin);
    for (slab& s : huge.slabs)
        for (const tissue t : all_tissues) s.kept[t].count *= 500;
    CHECK(readable_units(us_kitchen, huge).portion == us_kitchen.bulk);
}

TEST_CASE("the table of masses ends with the purchase, and without a bill with the loin") {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const report_table table = yield_lines_table(settled, metric_kitchen);
    CHECK(table.rows.size() == settled.test.lines.size() + 1);
    CHECK(table.rows.back().total);
    CHECK(table.rows.back().cells ==
          std::vector<std::string>{"bought", "5.443", "100.0 %", "", detail::number_of(settled.test.credit)});
    const report_table masses = mass_table(cuts, metric_kitchen);
    CHECK(masses.rows.back().cells == std::vector<std::string>{"the loin on the board", "5.398", "100.0 %"});
}

TEST_CASE("the table of portions has the count, sum, lightest and heaviest of each cut") {
    cutting_plan cuts = mixed_plan(meat());
    // Three slabs of the first cut, neither the lightest nor the heaviest of them in front; one of the second, in halves.
    std::vector<slab> steaks{cuts.slabs[1], cuts.slabs[3], cuts.slabs[4]};
    std::sort(steaks.begin(), steaks.end(), [](const slab& a, const slab& b) { return a.weight() < b.weight(); });
    for (slab& s : steaks) s.option = 0;
    cuts.slabs[1] = steaks[1];
    cuts.slabs[3] = steaks[2];
    cuts.slabs[4] = steaks[0];
    cuts.slabs[2].kind = slab_kind::portions;
    cuts.slabs[2].option = 1;
    const auto grams = [](micrograms m) { return detail::number_of(to_mass(m), whole_grams); };
    const auto kilograms = [](micrograms m) { return detail::number_of(to_mass(m), thousandths_of_kilogram); };
    const micrograms together = steaks[0].weight() + steaks[1].weight() + steaks[2].weight();
    const micrograms halved = cuts.slabs[2].weight(), half{halved.count / 2};
    REQUIRE(grams(steaks[0].weight()) != grams(steaks[1].weight()));
    REQUIRE(grams(steaks[1].weight()) != grams(steaks[2].weight()));
    const std::vector<std::vector<std::string>> expected{
        {"strip steak", "3", kilograms(together), grams(steaks[0].weight()), grams(steaks[2].weight())},
        {"fillet", "2", kilograms(halved), grams(half), grams(half)},
        {"end steak", "0", "", "", ""},
        {"all portions", "5", kilograms(together + halved), "", ""}};
    const report_table table = portions_table(cuts, metric_kitchen);
    REQUIRE(table.rows.size() == expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(table.rows[i].cells == expected[i]);
        CHECK(table.rows[i].total == (i + 1 == expected.size()));
    }
}

TEST_CASE("costs that differ by a cent within a cut are shown from the lowest to the highest") {
    const cutting_plan cuts = mixed_plan(meat());
    bill<usd> settled = settle(cuts, bought<usd>());
    for (costed_portion<usd>& p : settled.portions) p.cost = {500};
    CHECK(costs_of(cuts, settled).of_spec == std::vector<std::string>{"5.00", "5.00", "5.00"});
    bool first = true;
    for (costed_portion<usd>& p : settled.portions)
        if (p.spec == 1 && std::exchange(first, false)) p.cost = {501};
    const portion_costs costs = costs_of(cuts, settled);
    CHECK(costs.of_spec == std::vector<std::string>{"5.00", "5.00–5.01", "5.00"});
    CHECK(costs.of_slab[3] == "5.00–5.01");
    CHECK(costs.of_slab[0].empty());
}

TEST_CASE("savings are reported line by line with both figures and the break-even price") {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const auto compared = comparisons(cuts, settled);
    const std::string report = flat(text_report(as_given(cuts), settled, {.saved = compared}));
    for (const savings<usd>& s : compared) {
        for (const savings_line<usd>& line : s.lines)
            CHECK_THAT(report, ContainsSubstring(detail::number_of(line.value)));
        for (const savings_line<usd>& line : s.differences)
            CHECK_THAT(report, ContainsSubstring(detail::number_of(line.value)));
        CHECK_THAT(report, ContainsSubstring("Gross saving, which takes all that was bought for steak " +
                                             to_text(s.gross_saving)));
        CHECK_THAT(report, ContainsSubstring("Net saving " + to_text(s.net_saving)));
        CHECK_THAT(report, ContainsSubstring(to_text(*break_even_price(s.terms).at, price_basis::per_pound)));
    }
    REQUIRE(compared[1].net_saving < amount<usd>{});
    CHECK_THAT(report, ContainsSubstring("lost by cutting " + detail::number_of(compared[1].net_saving)));
    // Only the first comparison leaves other portions over.
    CHECK_THAT(report, ContainsSubstring("if the other portions are worth nothing " +
                                         to_text(compared[0].net_saving_without_others)));
    CHECK(report.find("Savings") != std::string::npos);
    CHECK(text_report(as_given(cuts), settled).find("Savings") == std::string::npos);
}

TEST_CASE("text_report: the short call says what the one with nothing to compare says") {
    const cutting_plan cuts = mixed_plan(meat());
    const bill<usd> settled = settle(cuts, bought<usd>(), prices<usd>());
    const tranche::planned planned = as_given(cuts);
    const report_options<usd> metric{.units = metric_kitchen};
    CHECK(text_report(planned, settled, metric_kitchen) == text_report(planned, settled, metric));
    CHECK(text_report(planned, settled) == text_report(planned, settled, us_kitchen));
    for (const report_section& section : report_sections(planned, settled, us_kitchen)) CHECK(section.pictures.empty());
}

TEST_CASE("a report of a plan without portions says why") {
    const profile loin = meat();
    const cut_spec heavy{.name = "small thick steak", .thickness = {2.0_in, 2.5_in}, .portion = {1.0_oz, 4.0_oz}};
    const tranche::planned planned = most_portions(loin, heavy, rules);
    REQUIRE_FALSE(planned.feasible());
    REQUIRE(planned.limits.size() == 1);
    const bill<usd> settled = settle(planned.plan, bought<usd>(), prices<usd>());
    for (const std::string& report : {text_report(planned, us_kitchen), text_report(planned, settled)}) {
        check_width(report);
        CHECK_THAT(flat(report), ContainsSubstring("No portion fits the limits."));
        CHECK_THAT(flat(report), ContainsSubstring(in_units(planned.limits[0].says, us_kitchen)));
        CHECK_THAT(flat(report), ContainsSubstring(" oz, above the 4 oz allowed") && !ContainsSubstring(" g,"));
        CHECK_THAT(flat(report), ContainsSubstring("Portions 0 Plan no portions, see the warnings"));
    }
    CHECK_THAT(flat(text_report(planned, settled)), ContainsSubstring("Cost that no portion carries"));
    REQUIRE_FALSE(settled.remarks.empty());
    for (const std::string& remark : settled.remarks)
        CHECK_THAT(flat(text_report(planned, settled)), ContainsSubstring("- " + remark));
}

TEST_CASE("a warning names each cut that the best plan leaves out") {
    const profile loin = meat();
    std::vector<cut_spec> wanted = specs();
    wanted.push_back({.name = "giant", .thickness = 1.0_in, .portion = {5.0_lb, 6.0_lb}});
    const tranche::planned planned = least_waste(loin, wanted, rules);
    REQUIRE(planned.feasible());
    const std::vector<std::string> warnings = warnings_of(planned, us_kitchen);
    for (std::size_t s = 0; s < wanted.size(); ++s) {
        std::size_t named = 0;
        for (const std::string& w : warnings)
            named += w.compare(0, wanted[s].name.size() + 1, wanted[s].name + ':') == 0;
        bool used = false;
        for (const slab& piece : planned.plan.slabs) used |= piece.kind == slab_kind::portions && piece.option == s;
        CHECK(named == (used ? 0U : 1U));
    }
}

TEST_CASE("a plan whose objective went wrong is not called proven") {
    tranche::planned planned = as_given(mixed_plan(meat()));
    planned.searched.positions = 840;
    CHECK_THAT(text_report(planned), ContainsSubstring("proven best on 840 positions"));
    planned.stop = stop_reason::objective_not_finite;
    CHECK_THAT(text_report(planned), !ContainsSubstring("proven"));
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("this plan means nothing"));
    planned.stop = stop_reason::no_portion_pays;
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("none is worth more than loose meat"));
    CHECK_THAT(text_report(as_given(mixed_plan(meat()))), !ContainsSubstring("proven"));
}

TEST_CASE("a plan says whether it has the portions asked for") {
    tranche::planned planned = as_given(mixed_plan(meat()));
    planned.searched.positions = 840;
    planned.stop = stop_reason::gap_left;
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("found on 840 positions, not proven best"));
    planned.stop = stop_reason::demand_not_found;
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("not what was asked for, see the warnings"));
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("No plan that meets the demands was found"));
    planned.stop = stop_reason::demand_impossible;
    planned.shortfalls = {{.spec = 0, .wanted = 5, .possible = 4, .text = "roast: 5 are asked for"}};
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("not what was asked for, see the warnings"));
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("The demands cannot be met"));
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("roast: 5 are asked for."));
    planned.stop = stop_reason::no_portion_wanted;
    CHECK_THAT(flat(text_report(planned)), ContainsSubstring("The demands allow no portion."));
}

TEST_CASE("a plan of one slab is reported") {
    const profile loin = meat();
    const cutting_plan cuts = lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::portions, 2}});
    const std::string report = text_report(as_given(cuts), settle(cuts, bought<usd>(), prices<usd>()));
    check_width(report);
    CHECK_THAT(report, ContainsSubstring("1 × end steak of 184 1/2 oz, 96.71 USD each.")); // all of the bill
    const cutting_plan loose = lay_out(loin, specs(), {}, {{0, loin.cells(), slab_kind::loose, 0}});
    CHECK_THAT(text_report(as_given(loose)), ContainsSubstring("end, to grind"));
}

TEST_CASE("every report carries the cautions") {
    const cutting_plan cuts = mixed_plan(meat());
    for (const std::string& report :
         {text_report(as_given(cuts)),
          text_report(as_given(cuts), settle(cuts, bought<eur>()), {.units = metric_kitchen})}) {
        const std::string words = flat(report);
        for (const char* caution : {"40 °F (4 °C)", "145 °F (62.8 °C) with 3 minutes of rest", "160 °F (71.1 °C)",
                                    "USDA FSIS", "guard or mail glove", "legal-for-trade scale", "local law"})
            CHECK_THAT(words, ContainsSubstring(caution));
    }
}

TEST_CASE("a name cannot steer the terminal that shows the report") {
    cutting_plan cuts = mixed_plan(meat());
    cuts.specs[0].name = "steak\x1B[31m\nTotal 0.00\xFF";
    const std::string report = text_report(as_given(cuts));
    CHECK(report.find('\x1B') == std::string::npos);
    CHECK(report.find('\xFF') == std::string::npos);
    CHECK(report.find("\nTotal") == std::string::npos);
}

} // namespace text_report_test
