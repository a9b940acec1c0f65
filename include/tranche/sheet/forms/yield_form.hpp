// A form to weigh a loin into: what was bought and the parts it is cut into, blank or filled in, for one team or a class.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/text/detail/csv_formula.hpp>
#include <tranche/text/from_text.hpp>
#include <tranche/text/read_csv.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

/// A line of a form. Weights and values are none until somebody writes them.
struct form_part {
    std::string name{};
    part_role role = part_role::usable;
    std::optional<mass> weight{};
    std::optional<sheet_price> value{}; ///< of a by-product

    friend bool operator==(const form_part&, const form_part&) = default;
};

/// A yield test as a team writes it down.
struct yield_form {
    std::string team{}; ///< empty as long as it is blank
    std::optional<mass> bought{};
    std::optional<sheet_price> price{};
    std::vector<form_part> parts{};

    friend bool operator==(const yield_form&, const yield_form&) = default;
};

namespace detail {

inline constexpr std::array<std::string_view, 5> form_columns{"team", "part", "role", "weight", "value"};

[[nodiscard]] constexpr std::string_view form_word(part_role role) {
    switch (role) {
    case part_role::usable: return "portions";
    case part_role::by_product: return "by-product";
    case part_role::loss: break;
    }
    return "loss";
}

} // namespace detail

/// The form for a loin of a sheet: its cuts, where its loose meat and trim go, loss and purge. Weight and price of the
/// loin are those of the sheet; the parts are blank. Throws `invalid_input` for an index that is no loin's. In
/// kilograms and money by mass. `loin` is an index below their number.
template <class = detail::when_called>
[[nodiscard]] yield_form blank_form(const cut_sheet& sheet, std::size_t loin = 0) {
    if (loin >= sheet.loins.size())
        throw invalid_input("loin", std::to_string(loin), "an index below " + std::to_string(sheet.loins.size()));
    yield_form form{.bought = sheet.loins[loin].weight, .price = sheet.loins[loin].price};
    for (const sheet_cut& cut : sheet.cuts) form.parts.push_back({.name = cut.spec.name});
    by_destination<bool> used;
    used[sheet.rules.facing_goes_to] = sheet.rules.facing > length{};
    for (const loose_cut& loose : sheet.rules.loose) used[loose.goes_to] = true;
    for (const tissue t : all_tissues) used[sheet.rules.trim_goes_to[t]] = true;
    for (const destination d : all_destinations)
        if (used[d])
            form.parts.push_back(
                {.name = std::string(name_of(d)),
                 .role = part_role::by_product,
                 .value = d == destination::discard ? std::optional(sheet_price{}) : sheet.by_products[d]});
    form.parts.push_back({.name = "purge (drip in the bag)", .role = part_role::loss});
    form.parts.push_back({.name = "cutting loss", .role = part_role::loss});
    return form;
}

/// Forms as a table after RFC 4180 with the columns team, part, role, weight, value: for each form a line of what was
/// bought (role `bought`, its price as the value) and one a part (`portions`, `by-product`, `loss`). What is not
/// written yet is empty. Weights are written as the kitchen writes them, to its division. O(parts). Throws as `to_text`
/// for what cannot be written, and for a bad currency.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string yield_forms_csv(const std::vector<yield_form>& forms, const iso_currency& in,
                                                       const kitchen_units& units) {
    const currency_choice choice(in);
    std::string text = detail::csv_record({detail::form_columns.begin(), detail::form_columns.end()});
    const auto weight = [&](const std::optional<mass>& m) { return m ? to_text(*m, units.bulk) : std::string{}; };
    const auto price = [&](const std::optional<sheet_price>& p) {
        return p ? to_text(*p, units.basis, in.minor_digits + 2) : std::string{};
    };
    for (const yield_form& form : forms) {
        const std::string team = detail::csv_text(form.team);
        text += detail::csv_record({team, "the loin", "bought", weight(form.bought), price(form.price)});
        for (const form_part& part : form.parts)
            text += detail::csv_record({team, detail::csv_text(part.name), std::string(detail::form_word(part.role)),
                                        weight(part.weight), price(part.value)});
    }
    return text;
}

/// Reads such tables, one behind the other if there are several (each with its heading), as people fill them in:
/// weights and prices with units (`8 lb 3 oz`, `3.72 kg`, `4.60 USD/lb`). A line of role `bought` begins a form. Throws
/// `invalid_input` by line and column for another table, a role that is none, a part in front of what was bought, and
/// what is no weight or price. O(length). Also for a bad currency. Prices are held as money by mass, weights in
/// kilograms, zero or more.
template <class = detail::when_called>
[[nodiscard]] std::vector<yield_form> read_yield_forms(std::string_view text, const iso_currency& in) {
    const currency_choice choice(in);
    std::vector<yield_form> forms;
    const auto refuse = [](const csv_row& row, std::size_t column, const std::string& expected) {
        const std::string found = column < row.cells.size() ? row.cells[column] : std::string{};
        throw invalid_input(csv_place(row, column), '"' + found + '"', expected);
    };
    const std::vector<csv_row> rows = read_csv(text);
    for (const csv_row& row : rows) {
        if (row.cells.size() != detail::form_columns.size())
            refuse(row, 0, "the columns team, part, role, weight, value");
        if (std::equal(row.cells.begin(), row.cells.end(), detail::form_columns.begin())) continue;
        if (&row == &rows.front()) refuse(row, 0, "the heading team,part,role,weight,value");
        const auto cell = [&](std::size_t column) { return detail::unguarded(row.cells[column]); };
        const std::string role = cell(2);
        std::optional<mass> weight;
        if (!cell(3).empty()) {
            weight = from_text<mass>(cell(3), csv_place(row, 3));
            if (!(*weight >= mass{})) refuse(row, 3, "a weight of zero or more");
        }
        std::optional<sheet_price> value;
        if (!cell(4).empty()) value = from_text<sheet_price>(cell(4), csv_place(row, 4));
        if (role == "bought") {
            forms.push_back({.team = cell(0), .bought = weight, .price = value});
            continue;
        }
        if (forms.empty()) refuse(row, 2, "bought, in front of the parts");
        form_part part{.name = cell(1), .weight = weight, .value = value};
        bool known = false;
        for (const part_role r : {part_role::usable, part_role::by_product, part_role::loss})
            if (role == detail::form_word(r)) part.role = r, known = true;
        if (!known) refuse(row, 2, "bought, portions, by-product or loss");
        if (part.name.empty()) refuse(row, 1, "the name of a part");
        forms.back().parts.push_back(std::move(part));
    }
    return forms;
}

/// The test that a filled form is of. Lines that were left blank weigh nothing; by-products without a value are
/// credited at nothing. Throws `invalid_input` naming what is missing for a form without the weight or price of what
/// was bought or without a weight at all, and for what `cutting_yield_test` refuses: parts that do not add up. Weights
/// in kilograms, values money by mass.
template <class = detail::when_called>
[[nodiscard]] yield_test<chosen_currency> test_of(const yield_form& form,
                                                  const weighing_tolerance& scale_tolerance = {}) {
    if (!form.bought) throw invalid_input("bought", "no weight", "the weight of the loin");
    if (!form.price) throw invalid_input("bought", "no price", "the price of the loin by weight");
    std::vector<weighed_part<chosen_currency>> parts;
    for (const form_part& part : form.parts)
        if (part.weight)
            parts.push_back({part.name, *part.weight, part.role,
                             part.role == part_role::by_product ? part.value.value_or(sheet_price{}) : sheet_price{}});
    if (parts.empty()) throw invalid_input("weight", "none of a part", "at least one");
    return cutting_yield_test<chosen_currency>({*form.bought, *form.price}, parts, scale_tolerance);
}

/// A blank form for paper: a table with room to write in, and how the figures below it are worked out. Quantities are
/// written in `units`. Throws as `to_text` for what cannot be written, and for a bad currency.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> sections_of(const yield_form& form, const iso_currency& in,
                                                                   const kitchen_units& units) {
    const currency_choice choice(in);
    const std::string room = "..............";
    report_table table{.columns = {{"Part"}, {"What it is"}, {"Weight"}, {"Value by weight"}}};
    const auto weight = [&](const std::optional<mass>& m) { return m ? to_text(*m, units.bulk) : room; };
    const auto price = [&](const std::optional<sheet_price>& p) { return p ? to_text(*p, units.basis) : room; };
    table.rows.push_back({{"the loin, as bought", "bought", weight(form.bought), price(form.price)}});
    for (const form_part& part : form.parts)
        table.rows.push_back({{part.name, std::string(detail::form_word(part.role)), weight(part.weight),
                               part.role == part_role::by_product ? price(part.value) : ""}});
    report_section section{.title = "Yield test: " + (form.team.empty() ? "team " + room : form.team),
                           .tables = {table}};
    section.points = {"All parts together weigh what was bought, as nearly as the scale can tell.",
                      "Yield = portions / bought.", "Cost of the portions = bought x price - value of the by-products.",
                      "Cost by weight = cost of the portions / weight of the portions; cost factor = that / price."};
    return {section};
}

} // namespace tranche
