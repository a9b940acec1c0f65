// What a report says, section by section; the text report and the HTML report differ only in how they show it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/report/answer_lines.hpp>
#include <tranche/report/cautions.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/report/tables/savings_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// What stands in the way: why the plan has no portions, each spec that it has none of, and meat that one change would
/// use. Empty if all is well. Weights, lengths and prices are written in `units`; throws as `to_text` for one that
/// cannot be written. O(specs + limits).
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> warnings_of(const planned& planned, const kitchen_units& units) {
    std::vector<std::string> warnings;
    switch (planned.stop) {
    case stop_reason::optimal:
    case stop_reason::gap_left: break;
    case stop_reason::no_portion_wanted: warnings.emplace_back("The demands allow no portion."); break;
    case stop_reason::demand_impossible:
        warnings.emplace_back("The demands cannot be met: this plan does not have all that is asked for.");
        break;
    case stop_reason::demand_not_found:
        warnings.emplace_back(
            "No plan that meets the demands was found: this plan does not have all that is asked for.");
        break;
    case stop_reason::no_portion_fits: warnings.emplace_back("No portion fits the limits."); break;
    case stop_reason::no_portion_pays:
        warnings.emplace_back("Portions can be cut, but none is worth more than loose meat.");
        break;
    case stop_reason::objective_not_finite:
        warnings.emplace_back("The objective returned a value that is not finite: this plan means nothing.");
        break;
    }
    for (const binding_limit& limit : planned.limits) warnings.push_back(in_units(limit.says, units) + '.');
    for (const demand_shortfall& shortfall : planned.shortfalls) warnings.push_back(shortfall.text + '.');
    if (!planned.feasible()) return warnings;
    for (const plan_hint& hint : planned.hints) warnings.push_back(in_units(hint.says, units) + '.');
    return warnings;
}

namespace detail {

// Of the sections that have pictures.
inline constexpr const char *cutting_title = "Cutting order, from the rib end", *costs_title = "Costs",
                            *savings_title = "Savings";

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string plan_status(const planned& planned) {
    if (planned.searched.positions == 0) return "as given";
    const std::string grid = std::to_string(planned.searched.positions) + " positions";
    if (planned.stop == stop_reason::objective_not_finite) return "means nothing, see the warnings";
    if (planned.stop == stop_reason::gap_left) return "found on " + grid + ", not proven best";
    if (planned.stop == stop_reason::demand_impossible || planned.stop == stop_reason::demand_not_found)
        return "not what was asked for, see the warnings";
    if (planned.stop != stop_reason::optimal) return "no portions, see the warnings";
    return "proven best on " + grid;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_section loin_section(const planned& planned, const kitchen_units& units,
                                                       std::vector<report_table::row> bought) {
    report_section section{.title = "The loin", .is = report_section::part::behind};
    report_table facts{.columns = {{""}, {""}}, .rows = std::move(bought)};
    facts.rows.push_back({.cells = {"On the board", to_text(to_mass(planned.plan.total), units.bulk)}});
    facts.rows.push_back({.cells = {"Length", to_text(planned.plan.extent, units.along)}});
    facts.rows.push_back({.cells = {"Portions", std::to_string(planned.plan.portion_count())}});
    facts.rows.push_back({.cells = {"Plan", plan_status(planned)}});
    section.tables.push_back(facts);
    return section;
}

/// To which step each kind of quantity is shown, where kinds differ in it.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string nearest_steps(const kitchen_units& units) {
    const auto alike = [](double a, double b) { return std::abs(a - b) < 1e-9 * a; };
    std::string text = "Weights are shown to the nearest " + smallest_step(units.portion);
    if (!alike(step_of(units.portion).value(), step_of(units.bulk).value()))
        text += ", together to the nearest " + smallest_step(units.bulk);
    text += ", lengths to the nearest " + smallest_step(units.along);
    if (!alike(step_of(units.along).value(), step_of(units.thickness).value()))
        text += ", how thick to the nearest " + smallest_step(units.thickness);
    return text + '.';
}

template <class = when_called>
[[nodiscard]] std::vector<report_section> cutting_sections(const planned& planned, const kitchen_units& units,
                                                           const portion_costs& costs) {
    report_section slabs{.title = cutting_title, .tables = {slabs_table(planned.plan, units, costs)}};
    slabs.paragraphs = {nearest_steps(units) + " Weights are summed before rounding, exactly; each thickness is the "
                                               "distance between its cuts as shown."};
    if (units.along != units.thickness)
        slabs.paragraphs = {nearest_steps(units) + " Sums are made before rounding and are exact."};
    report_section portions{.title = "Portions",
                            .tables = {portions_table(planned.plan, units, costs)},
                            .is = report_section::part::behind};
    return {slabs, portions};
}

template <currency C>
[[nodiscard]] TRANCHE_COLD report_section savings_section(const bill<C>& settled, const std::vector<savings<C>>& saved,
                                                          const kitchen_units& units) {
    report_section section{.title = savings_title, .is = report_section::part::behind};
    for (const savings<C>& one : saved) {
        const std::string caption = saved.size() > 1 ? "Against " + one.against : "";
        section.tables.push_back(cost_breakdown_table(cost_breakdown(one, settled.test), units));
        section.tables.back().caption = caption;
        section.tables.back().drawn = true;
        section.tables.push_back(difference_table(one, units));
        section.tables.back().caption = caption;
        section.tables.push_back(break_even_table(one, units));
        const auto grid = savings_grid_around(one, units);
        if (!grid) continue;
        section.tables.push_back(savings_grid_table(*grid, units));
        section.tables.back().drawn = true;
    }
    return section;
}

/// What stands on top: the answer, and what is in its way.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> first_sections(const planned& planned,
                                                                      const kitchen_units& units,
                                                                      const answer_money* money) {
    std::vector<report_section> sections{
        {.title = "The answer", .paragraphs = answer_lines(planned, units, money), .is = report_section::part::answer}};
    const std::vector<std::string> warnings = warnings_of(planned, units);
    if (!warnings.empty())
        sections.push_back({.title = "Warnings", .points = warnings, .is = report_section::part::warning});
    return sections;
}

/// Of a weight that was bought or not, up to the portions.
template <class = when_called>
TRANCHE_COLD void add_cutting(std::vector<report_section>& sections, const planned& planned, const kitchen_units& units,
                              const portion_costs& costs, std::vector<report_table::row> bought) {
    for (report_section& s : cutting_sections(planned, units, costs)) sections.push_back(std::move(s));
    sections.push_back(loin_section(planned, units, std::move(bought)));
}

/// What is written of a bill, whatever its currency.
struct bill_tables {
    std::string bought{}; ///< weight and price
    std::string purge{};
    answer_money money{};
    portion_costs costs{};
    report_table lines{}, totals{};
    const std::vector<std::string>* remarks = nullptr;
};

/// What a report with prices says of the bill itself, up to its costs.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> bill_sections(const planned& planned, bill_tables settled,
                                                                     const kitchen_units& units) {
    std::vector<report_table::row> facts(2);
    facts[0].cells = {"Bought", std::move(settled.bought)};
    facts[1].cells = {"Purge", std::move(settled.purge)};
    std::vector<report_section> sections = first_sections(planned, units, &settled.money);
    add_cutting(sections, planned, units, settled.costs, std::move(facts));
    sections.push_back({.title = "Where the mass went", .is = report_section::part::behind});
    sections.back().tables.push_back(std::move(settled.lines));
    sections.push_back({.title = costs_title, .points = *settled.remarks, .is = report_section::part::behind});
    sections.back().tables.push_back(std::move(settled.totals));
    return sections;
}

template <currency C>
[[nodiscard]] std::vector<report_section> bill_sections(const planned& planned, const bill<C>& settled,
                                                        const kitchen_units& units, answer_money money,
                                                        const edible_basis& basis = {}) {
    const purchase<C>& bought = settled.test.purchase;
    return bill_sections(planned,
                         {to_text(bought.weight, units.bulk) + " at " + price_text<C>(bought.price, units),
                          to_text(to_mass(settled.purge), units.portion), std::move(money),
                          costs_of(planned.plan, settled), yield_lines_table(settled, units),
                          costs_table(settled, planned.plan, units, basis), &settled.remarks},
                         units);
}

template <class = when_called>
TRANCHE_COLD void add_cautions(std::vector<report_section>& sections) {
    sections.push_back({.title = "Cautions", .points = cautions()});
}

} // namespace detail

/// The sections of a report without prices: the answer (`answer_lines`) and warnings, the cutting order, then what lies behind it.
/// Weights, lengths and prices are written in `kitchen` (see `readable_units`); throws as `to_text` for
/// one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] std::vector<report_section> report_sections(const planned& planned, const kitchen_units& kitchen) {
    const kitchen_units units = readable_units(kitchen, planned.plan);
    std::vector<report_section> sections = detail::first_sections(planned, units, nullptr);
    detail::add_cutting(sections, planned, units, {}, {});
    sections.push_back({.title = "Where the mass went",
                        .tables = {mass_table(planned.plan, units)},
                        .is = report_section::part::behind});
    detail::add_cautions(sections);
    return sections;
}

/// What a report says besides the plan and its bill, and how.
template <currency C>
struct report_options {
    std::vector<savings<C>> saved{};       ///< comparisons with ready-cut meat, each of this bill
    kitchen_units units = us_kitchen;      ///< the units it is written in
    std::vector<ranked_offer<C>> offers{}; ///< in their order
    edible_basis basis{};                  ///< what of the portions is wanted

    friend bool operator==(const report_options&, const report_options&) = default;
};

/// The sections of a report with prices, compared with nothing. Weights, lengths and prices are written in `kitchen`
/// (see `readable_units`), money to the minor unit; `settled` is the bill of `planned`. Throws as `to_text` for what
/// cannot be written.
template <currency C>
[[nodiscard]] std::vector<report_section> report_sections(const planned& planned, const bill<C>& settled,
                                                          const kitchen_units& kitchen) {
    const kitchen_units units = readable_units(kitchen, planned.plan);
    std::vector<report_section> sections =
        detail::bill_sections(planned, settled, units, detail::answer_money_of(settled));
    detail::add_cautions(sections);
    return sections;
}

/// The same with comparisons with ready-cut meat and offers, in the options' units. Pictures are made only for pages, by
/// `add_pictures`. Throws as `to_text` for what cannot be written.
template <currency C>
[[nodiscard]] std::vector<report_section> report_sections(const planned& planned, const bill<C>& settled,
                                                          const report_options<C>& options) {
    const auto& [saved, kitchen, offers, basis] = options;
    const kitchen_units units = readable_units(kitchen, planned.plan);
    detail::answer_money money = detail::answer_money_of(settled);
    detail::add_comparisons(money, saved);
    std::vector<report_section> sections = detail::bill_sections(planned, settled, units, std::move(money), basis);
    if (!saved.empty()) sections.push_back(detail::savings_section(settled, saved, units));
    if (!offers.empty())
        sections.push_back({.title = "Offers, by the cost of an edible portion",
                            .tables = {offers_table(offers, units)},
                            .is = report_section::part::behind});
    detail::add_cautions(sections);
    return sections;
}

} // namespace tranche
