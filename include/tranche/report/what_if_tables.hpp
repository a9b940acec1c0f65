// What would help, and what each limit costs, as tables for a report.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <tranche/cut/plan_worth.hpp>
#include <tranche/optimise/what_if.hpp>
#include <tranche/report/kitchen_units.hpp>
#include <tranche/report/plan_tables.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/report/report_table.hpp>

namespace tranche {

/// The finest steps that these units can write: a change found on them reads as what was planned with.
[[nodiscard]] inline limit_steps finest_steps(const kitchen_units& units) {
    const auto one = [](length_division how) {
        switch (how.in) {
        case length_division::unit::millimetres: return millimetre;
        case length_division::unit::centimetres: return centimetre;
        case length_division::unit::metres: return metre;
        case length_division::unit::inches: break;
        }
        return inch;
    };
    const auto whole = [](mass_division how) {
        switch (how.in) {
        case mass_division::unit::grams: return gram;
        case mass_division::unit::kilograms: return kilogram;
        case mass_division::unit::pounds: return pound;
        case mass_division::unit::ounces:
        case mass_division::unit::pounds_and_ounces: break;
        }
        return ounce;
    };
    return {.thickness = one(units.thickness) / static_cast<double>(units.thickness.parts),
            .portion = whole(units.portion) / static_cast<double>(units.portion.parts),
            .share = 0.01};
}

namespace detail {

[[nodiscard]] inline std::string limit_text(const request_limit& limit, const limit_value& value,
                                            const kitchen_units& units) {
    const auto* const l = std::get_if<length>(&value);
    if (l != nullptr && std::isfinite(l->value())) return to_text(*l, units.thickness);
    if (const auto* m = std::get_if<mass>(&value)) return to_text(*m, units.portion);
    if (const auto* share = std::get_if<fraction>(&value)) return percent_text(*share, 0);
    return tranche::limit_text(limit, value);
}

[[nodiscard]] inline std::vector<std::string> limit_cells(const cutting_request& request, const request_limit& limit,
                                                          const limit_value& from, const limit_value& to,
                                                          const kitchen_units& units) {
    return {owner_of(request, limit), name_of(limit), limit_text(limit, from, units), limit_text(limit, to, units)};
}

} // namespace detail

/// One row a change: the limit as it is, as it would have to be, and what the plan is then.
[[nodiscard]] inline report_table changes_table(const cutting_request& request,
                                                const std::vector<limit_change>& changes, const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {
        {"Cut"},           {"Limit"},           {"Now", right},
        {"Needed", right}, {"Portions", right}, {detail::headed_in("Together", unit_name(units.bulk)), right}};
    for (const limit_change& change : changes) {
        const plan& cuts = change.planned.plan;
        report_table::row row{.cells = detail::limit_cells(request, change.which, change.from, change.to, units)};
        row.cells.push_back(std::to_string(cuts.portion_count()));
        row.cells.push_back(number_of(to_mass(balance_of(cuts).portion_total()), units.bulk));
        table.rows.push_back(std::move(row));
    }
    return table;
}

/// One row a limit that binds: the step it was moved, and what the plan then gains in portions, in meat in portions
/// and in worth, over that step. A limit whose gains are all too small to be written is left out. `now` is the plan
/// without a change. Throws as `worth_of` does.
template <currency C>
[[nodiscard]] report_table costs_of_limits_table(const cutting_request& request, const std::vector<limit_cost>& costs,
                                                 const plan& now, const price_list<C>& prices,
                                                 const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Cut"},
                     {"Limit"},
                     {"Now", right},
                     {"Moved to", right},
                     {"Portions", right},
                     {detail::headed_in("In portions", unit_name(units.portion)), right},
                     {"Worth, " + std::string(C::code), right}};
    const auto change = [](const std::string& number) {
        const bool more = number.front() != '-' && number.find_first_of("123456789") != std::string::npos;
        return more ? '+' + number : number;
    };
    for (const limit_cost& cost : costs) {
        if (!cost.binds()) continue;
        const std::string kept = number_of(to_mass(cost.more_in_portions), units.portion);
        const money<C> more = worth_of<C>(cost.planned.plan, prices) - worth_of<C>(now, prices);
        const std::string worth = decimal_text(more.value(), C::minor_digits);
        if (cost.more_portions == 0 && kept == number_of(mass{}, units.portion) &&
            worth == decimal_text(0.0, C::minor_digits))
            continue;
        report_table::row row{.cells = detail::limit_cells(request, cost.which, cost.from, cost.to, units)};
        for (const std::string& number : {std::to_string(cost.more_portions), kept, worth})
            row.cells.push_back(change(number));
        table.rows.push_back(std::move(row));
    }
    return table;
}

namespace detail {

[[nodiscard]] inline report_section help_section(const profile& meat, const cutting_request& request,
                                                 const planned_cuts& planned, const std::vector<limit_change>& changes,
                                                 const kitchen_units& units) {
    report_section section{.title = "What would help"};
    const std::string goal = planned.feasible() ? "one more portion" : "a plan";
    if (changes.empty()) section.paragraphs.push_back("No change of a single limit would do for " + goal + ".");
    const auto add = [&](const std::string& caption, const std::vector<limit_change>& found) {
        if (found.empty()) return;
        section.tables.push_back(changes_table(request, found, units));
        section.tables.back().caption = caption;
    };
    add("For " + goal + ", any one of these:", changes);
    if (planned.feasible())
        for (const binding_limit& limit : planned.limits)
            add("To cut " + request.specs[limit.spec].name + " at all, any one of these:",
                nearest_portion_of(meat, request, limit.spec, finest_steps(units)));
    section.paragraphs.emplace_back("Each was planned with, everything else as asked.");
    return section;
}

} // namespace detail

/// The sections that say what would help and what each limit costs, for the report of a request that is planned by the
/// objective of `make(problem)`. Changes are told on the finest steps of the units, and limits are moved by one
/// (gluteus medius by 5 %); prices are for the costs. As long as `one_more_portion`, `nearest_feasible` and
/// `limit_costs` take, and throws what they throw.
template <currency C, class Make>
[[nodiscard]] std::vector<report_section> what_if_sections(const profile& meat, const cutting_request& request,
                                                           const Make& make, const price_list<C>& prices,
                                                           const kitchen_units& units) {
    const planned_cuts planned = plan_request(meat, request, make);
    const limit_steps steps = finest_steps(units);
    if (!planned.feasible())
        return {detail::help_section(meat, request, planned, nearest_feasible(meat, request, make, steps), units)};
    std::vector<report_section> sections{
        detail::help_section(meat, request, planned, one_more_portion(meat, request, make, steps), units)};
    report_section costs{.title = "What each limit costs"};
    costs.tables = {costs_of_limits_table<C>(request,
                                             limit_costs(meat, request, make, {steps.thickness, steps.portion, 0.05}),
                                             planned.plan, prices, units)};
    if (costs.tables.front().rows.empty()) costs.tables.clear();
    costs.paragraphs = {costs.tables.empty()
                            ? "No limit costs anything: none of them, moved a step, gives a better plan."
                            : "What planning again gains when that limit alone is moved. Limits that are "
                              "not listed gain nothing."};
    sections.push_back(std::move(costs));
    return sections;
}

} // namespace tranche
