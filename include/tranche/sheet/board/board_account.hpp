// A loin of a sheet once it is cut: what was planned against what came, in weights and money, and the record of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/yield/cost_variances.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/records/cutting_record.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/detail/sheet_grind.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A loin as it was cut (`plan_as_cut`). Money is that of the sheet, as in a `sheet_answer`.
struct board_account {
    cutting_plan cut{};
    std::optional<bill<chosen_currency>> settled{};             ///< if the sheet has the loin's price
    std::optional<cost_variances<chosen_currency>> variances{}; ///< against the plan; if both have portions
    cutting_record record{};

    friend bool operator==(const board_account&, const board_account&) = default;
};

namespace detail {

/// What scales may differ by on a loin that is weighed slab by slab: each slab by itself, so more than two weighings do.
[[nodiscard]] inline weighing_tolerance tolerance_of_slabs() { return {5.0 * gram, 0.02}; }

[[nodiscard]] inline std::string name_of_slab(const cutting_plan& cuts, const slab& s) {
    if (s.kind == slab_kind::portions) return cuts.spec_of(s).name;
    return std::string(s.kind == slab_kind::facing ? name_of(s.kind) : name_of(cuts.destination_of(s)));
}

/// What was counted of a cut, planned or cut.
struct cut_count {
    std::string name{};
    std::size_t portions = 0;
    micrograms weight{};
};
[[nodiscard]] inline std::vector<cut_count> counts_of_cuts(const cutting_plan& cuts) {
    std::vector<cut_count> counts;
    for (const cut_spec& spec : cuts.specs) counts.push_back({.name = spec.name});
    for (const slab& s : cuts.slabs)
        if (s.kind == slab_kind::portions) {
            counts[s.option].portions += static_cast<std::size_t>(cuts.spec_of(s).pieces);
            counts[s.option].weight += s.weight();
        }
    return counts;
}

} // namespace detail

/// The account of a loin that was planned as `planned` says (`plan_sheet`) and came as `cut`. The record is of the
/// sheet's date, or of `today` if it has none; its supplier is "not said" where the sheet names none, and its note
/// names title, loin, lot and cutter. Throws `invalid_input` for a loin that the answer has not, and where more was
/// weighed than was bought, beyond 2 %. Weights are in kilograms and micrograms, money in minor units. That 2 % are the
/// most is common practice, no source.
template <class = detail::when_called>
[[nodiscard]] board_account board_account_of(const sheet_answer& planned, std::size_t loin, cutting_plan cut,
                                             std::chrono::year_month_day today) {
    if (loin >= planned.loins.size())
        throw invalid_input("loin", std::to_string(loin), "an index below " + std::to_string(planned.loins.size()));
    const cut_sheet& sheet = planned.sheet;
    const sheet_loin& bought = sheet.loins[loin];
    const currency_choice choice(detail::currency_of_sheet(sheet));
    board_account account{.cut = std::move(cut)};
    const mass_balance balance = balance_of(account.cut);
    const mass_balance as_planned = balance_of(planned.loins[loin].planned.plan);
    const weighing_tolerance tolerance = detail::tolerance_of_slabs();
    if (bought.price) {
        const purchase<chosen_currency> paid{bought.weight, *bought.price};
        account.settled = settle<chosen_currency>(
            account.cut, paid, detail::credited_prices(detail::prices_of(sheet), sheet, planned.grind),
            rounding::half_even, {.scale_tolerance = tolerance});
        if (balance.portion_total() > micrograms{} && as_planned.portion_total() > micrograms{})
            account.variances =
                variances_of<chosen_currency>(account.cut, paid, {paid, planned.loins[loin].planned.plan});
    }
    cutting_record& record = account.record;
    record.date = sheet.date.value_or(today);
    record.supplier = bought.supplier.empty() ? "not said" : bought.supplier;
    const auto note = [&](const std::string& what, const std::string& says) {
        if (!says.empty()) record.note += (record.note.empty() ? "" : "; ") + what + says;
    };
    note("", sheet.title);
    note("loin ", bought.name);
    note("lot ", bought.lot);
    note("cut by ", sheet.cutter);
    record.bought = to_mass(to_micrograms(bought.weight)); // as a table keeps it
    record.usable = to_mass(balance.portion_total());
    for (const destination d : all_destinations) record.by_products[d] = to_mass(balance.loose[d] + balance.trim[d]);
    record.cutting_loss = to_mass(balance.cutting_loss);
    record.purge = to_mass(std::max(micrograms{}, to_micrograms(bought.weight) - account.cut.total));
    record.predicted_yield = to_mass(as_planned.portion_total()) / bought.weight;
    validate(record, tolerance);
    return account;
}

/// Planned against cut: a table of the cuts, one of the slabs as they came, yield and money, and where the difference
/// came from. For `text_of` and pages. Throws as `to_text` for what cannot be written. O(slabs + specs). `loin` is an
/// index of a loin of `planned`, which is not checked. Quantities are written in the units of the sheet.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> sections_of(const board_account& account,
                                                                   const sheet_answer& planned, std::size_t loin) {
    const cut_sheet& sheet = planned.sheet;
    const currency_choice choice(detail::currency_of_sheet(sheet));
    const kitchen_units units = kitchen_of(sheet);
    const cutting_plan& plan = planned.loins[loin].planned.plan;
    report_section section{.title = "Planned and cut"};

    report_table cuts = detail::figures_table({"Cut", "Planned", "Together", "Came", "Together"});
    const std::vector<detail::cut_count> before = detail::counts_of_cuts(plan);
    const auto bulk = [&](micrograms m) { return to_text(to_mass(m), units.bulk); };
    detail::cut_count all_planned, all_cut;
    for (const detail::cut_count& came : detail::counts_of_cuts(account.cut)) {
        detail::cut_count was;
        for (const detail::cut_count& c : before)
            if (c.name == came.name) was = c;
        if (was.portions + came.portions == 0) continue;
        cuts.rows.push_back({{came.name, std::to_string(was.portions), bulk(was.weight), std::to_string(came.portions),
                              bulk(came.weight)}});
        all_planned.portions += was.portions;
        all_planned.weight += was.weight;
        all_cut.portions += came.portions;
        all_cut.weight += came.weight;
    }
    cuts.rows.push_back({{"All portions", std::to_string(all_planned.portions), bulk(all_planned.weight),
                          std::to_string(all_cut.portions), bulk(all_cut.weight)},
                         true});

    report_table figures = detail::figures_table({"", "Planned", "Cut"});
    const mass bought = sheet.loins[loin].weight;
    figures.rows.push_back({{"Yield of portions", percent_text(to_mass(all_planned.weight) / bought),
                             percent_text(to_mass(all_cut.weight) / bought)}});
    const auto each = [](const bill<chosen_currency>& bill, std::size_t portions) {
        return portions == 0
                   ? std::string("none")
                   : to_text(rounded<chosen_currency>(bill.test.unrounded_primary_value / static_cast<double>(portions),
                                                      rounding::half_even, "cost each"));
    };
    if (const auto& was = planned.loins[loin].settled; was && account.settled) {
        figures.rows.push_back(
            {{"Credit for by-products", to_text(was->test.credit), to_text(account.settled->test.credit)}});
        figures.rows.push_back(
            {{"Cost of the portions", to_text(was->test.primary_value), to_text(account.settled->test.primary_value)}});
        figures.rows.push_back(
            {{"Cost each", each(*was, all_planned.portions), each(*account.settled, all_cut.portions)}});
    }
    section.tables = {cuts, figures};
    std::vector<report_section> sections{section};

    report_section slabs{.title = "Slab by slab"};
    report_table table = detail::figures_table({"Slab", "Thick", "Kept", "Trim", "Planned in its place"});
    const auto weight = [&](const slab& s) {
        return to_text(to_mass(s.weight()), s.kind == slab_kind::portions ? units.portion : units.bulk);
    };
    for (std::size_t i = 0; i < std::max(account.cut.slabs.size(), plan.slabs.size()); ++i) {
        report_table::row row{{std::to_string(i + 1), "", "", "", ""}};
        if (i < account.cut.slabs.size()) {
            const slab& s = account.cut.slabs[i];
            row.cells = {std::to_string(i + 1) + " " + detail::name_of_slab(account.cut, s),
                         to_text(s.thickness, units.thickness), weight(s),
                         to_text(to_mass(s.trim.sum()), units.portion), ""};
        }
        if (i < plan.slabs.size())
            row.cells[4] = detail::name_of_slab(plan, plan.slabs[i]) + ", " + weight(plan.slabs[i]);
        table.rows.push_back(std::move(row));
    }
    slabs.tables = {table};
    slabs.paragraphs = {"Slabs weigh what the scale said; what of each was kept is reckoned from the loin's readings."};
    sections.push_back(slabs);

    if (account.variances) {
        const cost_variances<chosen_currency>& v = *account.variances;
        report_section variances{.title = "Standard and actual"};
        report_table lines = detail::figures_table({"", "Cost too much"});
        const auto line = [&](const char* name, const sheet_amount& a, bool total = false) {
            lines.rows.push_back({{name, to_text(a)}, total});
        };
        line("Price (paid above the standard price)", v.price);
        line("Usage (portions heavier than planned)", v.usage);
        line("Yield (less of the loin in portions)", v.yield);
        line("In all", v.total, true);
        variances.tables = {lines};
        variances.paragraphs = {"Below zero it cost less than the plan allows for as many portions, " +
                                to_text(v.allowed) + "."};
        sections.push_back(variances);
    }
    return sections;
}

} // namespace tranche
