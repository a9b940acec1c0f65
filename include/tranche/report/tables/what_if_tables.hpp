// What would help, and what each limit costs, as tables for a report.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/plan_worth.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// The finest steps that these units can write: a change found on them reads as what was planned with.
template <class = when_called>
[[nodiscard]] limit_steps finest_steps(const kitchen_units& units) {
    return {.thickness = step_of(units.thickness), .portion = step_of(units.portion), .share = 0.01};
}

} // namespace detail

namespace detail {

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string limit_text(const request_limit& limit, const limit_value& value,
                                                  const kitchen_units& units) {
    const auto* const l = std::get_if<length>(&value);
    if (l != nullptr && std::isfinite(l->value())) return to_text(*l, units.thickness);
    if (const auto* m = std::get_if<mass>(&value)) return to_text(*m, units.portion);
    if (const auto* share = std::get_if<fraction>(&value)) return percent_text(*share, 0);
    return tranche::limit_text(limit, value);
}

template <class = when_called>
[[nodiscard]] std::vector<std::string> limit_cells(const cutting_request& request, const request_limit& limit,
                                                   const limit_value& from, const limit_value& to,
                                                   const kitchen_units& units) {
    return {owner_of(request, limit), name_in(request, limit), limit_text(limit, from, units),
            limit_text(limit, to, units)};
}

} // namespace detail

/// One row a change: the limit as it is, as it would have to be, and what the plan is then. Weights, lengths and prices
/// are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table changes_table(const cutting_request& request,
                                                      const std::vector<limit_change>& changes,
                                                      const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {
        {"Cut"},           {"Limit"},           {"Now", right},
        {"Needed", right}, {"Portions", right}, {detail::headed_in("Together", detail::unit_name(units.bulk)), right}};
    for (const limit_change& change : changes) {
        const cutting_plan& cuts = change.planned.plan;
        report_table::row row{.cells = detail::limit_cells(request, change.which, change.from, change.to, units)};
        row.cells.push_back(std::to_string(cuts.portion_count()));
        row.cells.push_back(detail::number_of(to_mass(balance_of(cuts).portion_total()), units.bulk));
        table.rows.push_back(std::move(row));
    }
    return table;
}

namespace detail {

/// `worth` has what moving each limit gains; empty unless `priced`.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table costs_of_limits_table(const cutting_request& request,
                                                              const std::vector<limit_cost>& costs,
                                                              const std::vector<double>& worth, bool priced,
                                                              const iso_currency& in, const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Cut"},
                     {"Limit"},
                     {"Now", right},
                     {"Moved to", right},
                     {"Portions", right},
                     {headed_in("In portions", unit_name(units.portion)), right}};
    if (priced) table.columns.push_back({"Worth, " + in.code, right});
    const auto change = [](const std::string& number) {
        const bool more = number.front() != '-' && number.find_first_of("123456789") != std::string::npos;
        return more ? '+' + number : number;
    };
    for (std::size_t i = 0; i < costs.size(); ++i) {
        const limit_cost& cost = costs[i];
        if (!cost.binds()) continue;
        const std::string kept = number_of(to_mass(cost.more_in_portions), units.portion);
        const std::string nothing = to_text(0.0, in.minor_digits);
        const std::string more = priced ? to_text(worth[i], in.minor_digits) : nothing;
        if (cost.more_portions == 0 && kept == number_of(mass{}, units.portion) && more == nothing) continue;
        report_table::row row{.cells = limit_cells(request, cost.which, cost.from, cost.to, units)};
        for (const std::string& number : {std::to_string(cost.more_portions), kept})
            row.cells.push_back(change(number));
        if (priced) row.cells.push_back(change(more));
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace detail

/// One row a limit that binds: the step it was moved, and what the plan then gains in portions, in meat in portions and
/// in worth, over that step. A limit whose gains are all too small to be written is left out. `now` is the plan without
/// a change. Unless every cut of the request has a price there is no telling worth, and no column for it. Throws as
/// `worth_of` does for a bad list. Weights, lengths and prices are written in `units`.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table costs_of_limits_table(const cutting_request& request,
                                                              const std::vector<limit_cost>& costs,
                                                              const cutting_plan& now, const price_list<C>& prices,
                                                              const kitchen_units& units) {
    const bool priced = std::all_of(request.cuts.begin(), request.cuts.end(),
                                    [&](const cut_spec& cut) { return prices.portions.contains(cut.name); });
    std::vector<double> worth;
    if (priced)
        for (const limit_cost& cost : costs)
            worth.push_back(cost.binds() ? (worth_of<C>(cost.planned.plan, prices) - worth_of<C>(now, prices)).value()
                                         : 0.0);
    return detail::costs_of_limits_table(request, costs, worth, priced, detail::iso_form<C>(), units);
}

/// What planning a request again and again says of it, told on the finest steps of a kitchen's units. The same type whatever
/// the objective: a report is made of it in one currency or another.
struct what_ifs {
    cutting_request request{};
    tranche::planned planned{};          ///< the request as it is
    std::vector<limit_change> changes{}; ///< any one gives one more portion, or a plan at all
    std::vector<std::pair<std::size_t, std::vector<limit_change>>> missing{}; ///< for a portion of a spec that has none
    std::vector<limit_cost> costs{}; ///< each limit a step wider (gluteus medius 5 %)

    friend bool operator==(const what_ifs&, const what_ifs&) = default;
};

/// Plans by a want. As long as `one_more_portion` or `nearest_feasible`, `nearest_portion_of` and
/// `limit_costs` take, and throws what they throw. Steps are the finest that `units` write, so lengths, masses and
/// shares are told in them.
template <want W>
[[nodiscard]] what_ifs what_ifs_of(const profile& meat, const cutting_request& request, const W& want,
                                   const kitchen_units& units) {
    const limit_steps steps = detail::finest_steps(units);
    what_ifs found{.request = request, .planned = plan(meat, request, want)};
    if (!found.planned.feasible()) {
        found.changes = nearest_feasible(meat, request, want, steps);
        return found;
    }
    found.changes = one_more_portion(meat, request, want, steps);
    for (const binding_limit& limit : found.planned.limits)
        found.missing.emplace_back(limit.spec, nearest_portion_of(meat, request, limit.spec, steps));
    found.costs = limit_costs(meat, request, want, {steps.thickness, steps.portion, 0.05});
    return found;
}

namespace detail {

/// What would help; the second section, what each limit costs, where there is a plan.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> what_if_sections(const what_ifs& found, report_table costs_table,
                                                                        const kitchen_units& units) {
    report_section help{.title = "What would help", .is = report_section::part::behind};
    const auto add = [&](const std::string& caption, const std::vector<limit_change>& changes) {
        if (changes.empty()) return;
        help.tables.push_back(changes_table(found.request, changes, units));
        help.tables.back().caption = caption;
    };
    const std::string goal = found.planned.feasible() ? "one more portion" : "a plan";
    if (found.changes.empty()) help.paragraphs.push_back("No change of a single limit would do for " + goal + '.');
    add("For " + goal + ", any one of these:", found.changes);
    for (const auto& [spec, changes] : found.missing)
        add("To cut " + found.request.cuts[spec].name + " at all, any one of these:", changes);
    if (!help.tables.empty()) help.paragraphs.emplace_back("Each was planned with, everything else as asked.");
    if (!found.planned.feasible()) return {help};
    report_section costs{.title = "What each limit costs", .is = report_section::part::behind};
    const bool any = !costs_table.rows.empty();
    if (any) costs.tables.push_back(std::move(costs_table));
    costs.paragraphs = {any ? "What planning again gains when that limit alone is moved. Limits that are "
                              "not listed gain nothing."
                            : "No limit costs anything: none of them, moved a step, gives a better plan."};
    return {help, costs};
}

} // namespace detail

/// The sections that say what would help and what each limit costs; prices are for the costs. Throws as
/// `costs_of_limits_table` does. Weights, lengths and prices are written in `units`.
template <currency C>
[[nodiscard]] std::vector<report_section> what_if_sections(const what_ifs& found, const price_list<C>& prices,
                                                           const kitchen_units& units) {
    report_table costs;
    if (found.planned.feasible())
        costs = costs_of_limits_table<C>(found.request, found.costs, found.planned.plan, prices, units);
    return detail::what_if_sections(found, std::move(costs), units);
}

} // namespace tranche
