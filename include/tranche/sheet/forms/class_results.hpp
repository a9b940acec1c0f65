// The yield tests of a class: each team's figures, worked out if asked, their mean and what it is worth, and a picture.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/report/pictures/sample_picture.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/forms/yield_form.hpp>
#include <tranche/statistics/sample_summary.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What came of one form.
struct team_result {
    std::string team{};
    std::optional<yield_test<chosen_currency>> test{}; ///< none if the form cannot be evaluated
    sentence trouble{};                                ///< then why not

    friend bool operator==(const team_result&, const team_result&) = default;
};

/// What came of all forms. Money is of the currency that they were evaluated in.
struct class_results {
    iso_currency currency{};
    std::vector<team_result> teams{};               ///< as the forms came
    std::optional<sample_summary> yield{};          ///< of the teams with a test; none without any
    std::optional<sample_summary> cost_by_weight{}; ///< of the portions, per kilogram; of teams that have portions

    friend bool operator==(const class_results&, const class_results&) = default;
};

/// Evaluates forms. One that cannot be is kept with its trouble, and the others count. Teams without a name are called
/// by their number. Intervals are 95 % ones of the mean, by Student's distribution. Throws `invalid_input` for a bad
/// currency only. Yields are shares by mass, costs money by mass. O(parts).
template <class = detail::when_called>
[[nodiscard]] class_results results_of(const std::vector<yield_form>& forms, const iso_currency& in,
                                       const weighing_tolerance& scale_tolerance = {}) {
    const currency_choice choice(in);
    class_results results{.currency = in};
    std::vector<double> yields, costs;
    for (const yield_form& form : forms) {
        team_result& team = results.teams.emplace_back();
        team.team = form.team.empty() ? "team " + std::to_string(results.teams.size()) : form.team;
        try {
            team.test = test_of(form, scale_tolerance);
        } catch (const invalid_input& error) {
            team.trouble =
                sentence(error.field() + ": got ") + error.value_words() + ", expected " + error.expected_words();
            continue;
        }
        yields.push_back(team.test->yield());
        if (const auto cost = team.test->cost_per_usable()) costs.push_back(cost->value());
    }
    if (!yields.empty()) results.yield = summarise(yields);
    if (!costs.empty()) results.cost_by_weight = summarise(costs);
    return results;
}

namespace detail {

/// Each figure of a test beside its formula and the formula with the numbers put in.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table worked_table(const yield_test<chosen_currency>& test,
                                                     const kitchen_units& units) {
    const auto bulk = [&](micrograms m) { return to_text(to_mass(m), units.bulk); };
    const auto price = [&](sheet_price p) { return to_text(p, units.basis); };
    report_table table{.columns = {{"Figure"}, {"How"}, {"With numbers"}, {"", report_table::align::right}}};
    const std::string usable = bulk(test.usable), whole = bulk(test.whole), paid = to_text(test.paid);
    table.rows.push_back({{"Paid", "bought x price", whole + " x " + price(test.purchase.price), paid}});
    std::string credits;
    for (const auto& line : test.lines)
        if (line.part.role == part_role::by_product && line.credit != sheet_amount{})
            credits += (credits.empty() ? "" : " + ") + to_text(line.credit);
    table.rows.push_back({{"Credit", "sum of weight x value of the by-products", credits.empty() ? "none" : credits,
                           to_text(test.credit)}});
    table.rows.push_back(
        {{"Cost of the portions", "paid - credit", paid + " - " + to_text(test.credit), to_text(test.primary_value)}});
    table.rows.push_back({{"Yield", "portions / bought", usable + " / " + whole, percent_text(test.yield())}});
    if (const auto cost = test.cost_per_usable()) {
        table.rows.push_back({{"Cost by weight", "cost of the portions / their weight",
                               to_text(test.primary_value) + " / " + usable, price(*cost)}});
        if (const auto factor = test.cost_factor())
            table.rows.push_back({{"Cost factor", "cost by weight / price",
                                   price(*cost) + " / " + price(test.purchase.price), to_text(*factor, 3)}});
    }
    return table;
}

} // namespace detail

/// A table of the teams with mean and interval, the picture of their yields, what could not be evaluated, and, if asked
/// for, each team's figures with formula and numbers. For `text_of` and pages. O(parts). Quantities are written in
/// `units`. Throws as `to_text` for what cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> sections_of(const class_results& results,
                                                                   const kitchen_units& units, bool worked = false) {
    const currency_choice choice(results.currency);
    report_section section{.title = "Yield tests"};
    report_table table = detail::figures_table(
        {"Team", "Bought", "Portions", "Yield", "Cost " + detail::per_weight_of_sheet(units), "Factor"});
    std::vector<named_value> yields;
    for (const team_result& team : results.teams) {
        if (!team.test) {
            section.points.push_back(team.team + " is left out: " + in_units(team.trouble, units));
            continue;
        }
        const yield_test<chosen_currency>& test = *team.test;
        const auto cost = test.cost_per_usable();
        const auto factor = test.cost_factor();
        table.rows.push_back(
            {{team.team, to_text(to_mass(test.whole), units.bulk), to_text(to_mass(test.usable), units.bulk),
              percent_text(test.yield()), detail::price_cell(cost, units), factor ? to_text(*factor, 3) : ""}});
        yields.push_back({team.team, test.yield()});
    }
    const auto price = [&](double per_kilogram) {
        return detail::price_cell(sheet_price::from_value(per_kilogram), units);
    };
    if (results.yield)
        table.rows.push_back({{"Mean", "", "", percent_text(results.yield->mean),
                               results.cost_by_weight ? price(results.cost_by_weight->mean) : "", ""},
                              true});
    section.tables = {table};
    if (results.yield && results.yield->interval)
        section.paragraphs.push_back(
            "With 95 % confidence the mean yield of such tests lies between " +
            percent_text(results.yield->interval->low) + " and " + percent_text(results.yield->interval->high) +
            " (Student's distribution, " + std::to_string(results.yield->count) + " teams)" +
            (results.cost_by_weight && results.cost_by_weight->interval
                 ? ", and the cost between " + price(results.cost_by_weight->interval->low) + " and " +
                       price(results.cost_by_weight->interval->high) + ' ' + detail::per_weight_of_sheet(units)
                 : "") +
            ".");
    if (!yields.empty())
        section.pictures.push_back(sample_svg(
            yields, "Yield of portions, by team", [](double share) { return percent_text(share); }, "class"));
    std::vector<report_section> sections{section};
    if (worked)
        for (const team_result& team : results.teams)
            if (team.test)
                sections.push_back(
                    {.title = team.team + ", worked out", .tables = {detail::worked_table(*team.test, units)}});
    return sections;
}

} // namespace tranche
