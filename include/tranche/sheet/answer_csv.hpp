// The answer to a cut sheet as tables of comma-separated values, a file each.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/savings_csv.hpp>
#include <tranche/report/orders/order_csv.hpp>
#include <tranche/report/tables/label_tables.hpp>
#include <tranche/report/tables/savings_tables.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/date.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A file of an answer, by a name without folders, and what is to stand in it.
struct answer_file {
    std::string name{}, text{};

    friend bool operator==(const answer_file&, const answer_file&) = default;
};

namespace detail {

/// Puts a cell in front of each record, under the head "loin"; of a table that goes on without its heads.
[[nodiscard]] TRANCHE_COLD inline std::string with_loin(const std::string& table, const std::string& loin, bool heads) {
    std::string text;
    for (std::size_t at = 0, record = 0; at < table.size(); ++record) {
        const std::size_t end = table.find("\r\n", at) + 2;
        if (record > 0 || heads) text += (record == 0 ? "loin" : loin) + ',' + table.substr(at, end - at);
        at = end;
    }
    return text;
}

/// Cells behind each record; the first ones stand behind the heads.
[[nodiscard]] TRANCHE_COLD inline std::string with_cells(const std::string& table,
                                                         const std::vector<std::string>& behind) {
    std::string text;
    for (std::size_t at = 0, record = 0; at < table.size(); ++record) {
        const std::size_t end = table.find("\r\n", at);
        text += table.substr(at, end - at) + ',' + behind.at(record) + "\r\n";
        at = end + 2;
    }
    return text;
}

/// A table of each loin that has one, below each other; with a column for the loin if there are several.
template <class Table>
void add_table(std::vector<answer_file>& files, const sheet_answer& answer, std::string_view name, const Table& table) {
    std::string text;
    for (const loin_answer& loin : answer.loins) {
        const std::string own = loin.opened ? table(loin) : std::string();
        if (own.empty()) continue;
        text += answer.loins.size() == 1 ? own : with_loin(own, csv_text(loin.name), text.empty());
    }
    if (!text.empty()) files.push_back({std::string(name), std::move(text)});
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string cuts_csv(const sheet_answer& answer) {
    std::string text = csv_record({"loin", "cut", "portions", "weight_g", "lightest_g", "heaviest_g", "cost",
                                   "cost_each", "sales", "margin", "currency"});
    const auto add = [&](const std::string& loin, const cut_account& of) {
        const bool money = of.cost || of.sales;
        text +=
            csv_record({csv_text(loin), csv_text(of.name), std::to_string(of.portions), csv_grams(of.weight),
                        of.portions > 0 ? csv_grams(of.lightest) : "", of.portions > 0 ? csv_grams(of.heaviest) : "",
                        figure_cell(of.cost), figure_cell(of.cost_each()), figure_cell(of.sales),
                        figure_cell(of.margin()), money ? code_of_sheet() : ""});
    };
    for (const loin_answer& loin : answer.loins) // one that stays whole has none
        for (const cut_account& of : loin.account.cuts) add(loin.name, of);
    if (answer.loins.size() > 1)
        for (const cut_account& of : answer.all.cuts) add("all loins", of);
    return text;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string thicknesses_csv(const sheet_answer& answer) {
    std::string text = csv_record({"thickness_mm", "portions", "weight_g", "yield", "cost_each", "saved", "currency"});
    for (const thickness_account& row : answer.thicknesses) {
        const cut_account all{.portions = row.account.portions(), .cost = row.account.primary_value};
        const std::optional<sheet_amount> saved =
            row.account.saved.empty() ? std::nullopt : std::optional(row.account.saved.front().net);
        text += csv_record({csv_millimetres(row.thickness), std::to_string(all.portions),
                            csv_grams(row.account.portion_weight()), shown(row.account.yield(), 6),
                            figure_cell(all.cost_each()), figure_cell(saved), all.cost ? code_of_sheet() : ""});
    }
    return text;
}

/// What a study came to, a loin a row.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string chances_csv(const sheet_answer& answer) {
    std::string text = csv_record({"loin", "sure", "loins", "impossible", "planned", "fewest_portions", "most_portions",
                                   "fewest_within", "most_within", "share_within", "lightest_g", "heaviest_g",
                                   "least_yield", "most_yield", "least_cost_each", "highest_cost_each", "currency"});
    const auto number = [](auto count) { return std::to_string(count); };
    bool any = false;
    for (const loin_answer& loin : answer.loins) {
        if (!loin.chances) continue;
        any = true;
        const loin_chances& c = *loin.chances;
        text += csv_record({csv_text(loin.name), shown(c.sure, 6), number(c.loins), number(c.impossible),
                            c.planned_once ? "once" : "each", number(c.fewest), number(c.most), number(c.fewest_within),
                            number(c.most_within), shown(c.within, 6), csv_grams(c.lightest), csv_grams(c.heaviest),
                            shown(c.least_yield, 6), shown(c.most_yield, 6), figure_cell(c.least),
                            figure_cell(c.dearest), c.least ? code_of_sheet() : ""});
    }
    return any ? text : std::string();
}

/// The labels with what of the sheet stands on them.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string packs_csv(const sheet_answer& answer) {
    std::vector<pack_label<chosen_currency>> labels;
    std::vector<std::string> more{"loin,lot,packed_on,sell_by"};
    const sheet_case& retail = *answer.sheet.retail;
    for (const sheet_label& label : answer.labels) {
        labels.push_back(label.label);
        const sheet_loin& loin = answer.sheet.loins[label.loin];
        more.push_back(
            csv_cells({csv_text(loin.name), csv_text(loin.lot), retail.packed_on ? date_text(*retail.packed_on) : "",
                       retail.sell_by ? date_text(*retail.sell_by) : ""}));
    }
    return with_cells(labels_csv(labels), more);
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string menu_csv(const sheet_answer& answer) {
    std::string text =
        csv_record({"cut", "portion_cost", "food_cost", "menu_price", "food_cost_share", "price_needed", "currency"});
    const auto money = [](sheet_money m) {
        return figure_cell(rounded<chosen_currency>(m, rounding::half_even, "plate"));
    };
    for (const menu_line& line : answer.menu)
        text += csv_record({csv_text(line.cut), money(line.plate.meat), money(line.plate.food()),
                            figure_cell(line.price), line.food_cost ? shown(*line.food_cost, 6) : "",
                            figure_cell(line.price_needed), code_of_sheet()});
    return text;
}

/// Net savings at other prices and yields, of each alternative of a loin.
template <class = when_called>
[[nodiscard]] std::vector<savings_grid<chosen_currency>> grids_of(const loin_answer& loin, const kitchen_units& units) {
    std::vector<savings_grid<chosen_currency>> grids;
    for (const savings<chosen_currency>& saved : loin.saved)
        if (auto grid = savings_grid_around(saved, units)) grids.push_back(std::move(*grid));
    return grids;
}

} // namespace detail

/// The tables of an answer: slabs.csv, account.csv, savings.csv, what_if.csv, offers.csv as `slabs_csv`, `account_csv`,
/// `savings_csv`, `savings_grid_csv` and `offers_csv` write them, with the loin in front where there are several;
/// cuts.csv (what each cut came to), chances.csv (of a study, loin by loin), thicknesses.csv, menu.csv, and labels.csv with lot
/// and dates; order_lines.csv, order_loins.csv, order_suppliers.csv and order_money.csv of an order. Those that the sheet has no
/// figures for are left out. Exact to the
/// microgram and the minor unit. Throws as those. Weights are grams, lengths millimetres, prices per kilogram.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<answer_file> answer_csv(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    std::vector<answer_file> files;
    detail::add_table(files, answer, "slabs.csv", [](const loin_answer& loin) {
        return loin.settled ? slabs_csv(loin.planned.plan, *loin.settled) : slabs_csv(loin.planned.plan);
    });
    files.push_back({"cuts.csv", detail::cuts_csv(answer)});
    detail::add_table(files, answer, "account.csv", [](const loin_answer& loin) {
        return loin.settled ? account_csv(*loin.settled) : std::string();
    });
    detail::add_table(files, answer, "savings.csv", [](const loin_answer& loin) {
        return loin.saved.empty() ? std::string() : savings_csv(loin.saved, loin.settled->test);
    });
    detail::add_table(files, answer, "what_if.csv", [&](const loin_answer& loin) {
        const auto grids = detail::grids_of(loin, kitchen_of(answer.sheet));
        return grids.empty() ? std::string() : savings_grid_csv(grids);
    });
    if (std::string chances = detail::chances_csv(answer); !chances.empty())
        files.push_back({"chances.csv", std::move(chances)});
    if (!answer.offers.empty()) files.push_back({"offers.csv", offers_csv(answer.offers)});
    if (!answer.thicknesses.empty()) files.push_back({"thicknesses.csv", detail::thicknesses_csv(answer)});
    if (!answer.menu.empty()) files.push_back({"menu.csv", detail::menu_csv(answer)});
    if (!answer.labels.empty()) files.push_back({"labels.csv", detail::packs_csv(answer)});
    if (!answer.order) return files;
    const order_account& order = answer.order->account;
    files.push_back({"order_lines.csv", order_lines_csv(order)});
    files.push_back({"order_loins.csv", order_loins_csv(order)});
    if (!answer.order->suppliers.empty())
        files.push_back({"order_suppliers.csv", order_suppliers_csv(answer.order->suppliers)});
    if (std::string money = order_money_csv(order); !money.empty())
        files.push_back({"order_money.csv", std::move(money)});
    return files;
}

} // namespace tranche
