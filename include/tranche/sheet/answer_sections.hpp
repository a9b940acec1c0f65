// What the answer to a cut sheet says, section by section, for text and page.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/cautions.hpp>
#include <tranche/report/html_report.hpp>
#include <tranche/report/orders/order_lines.hpp>
#include <tranche/report/orders/order_sections.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/report/tables/grind_tables.hpp>
#include <tranche/report/tables/label_tables.hpp>
#include <tranche/report/tables/what_if_tables.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/detail/answer_words.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/detail/sheet_trade.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// Puts sections behind those of an answer: in front of the cautions, which stay last.
inline void put_in(std::vector<report_section>& sections, report_section more) {
    sections.insert(sections.end() - 1, std::move(more));
}

/// What a sheet knows of one loin besides its plan and bill.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_section readings_section(const sheet_answer& answer, std::size_t i,
                                                           const kitchen_units& units) {
    const loin_answer& loin = answer.loins[i];
    report_section section{.title = "Readings", .is = report_section::part::behind};
    report_table identity = identity_table(answer.sheet, answer.sheet.loins[i]);
    if (!identity.rows.empty()) section.tables.push_back(std::move(identity));
    if (loin.guess) section.points.push_back(guess_words(*loin.guess, units));
    if (!loin.scale.empty()) section.points.push_back(in_units(loin.scale, units));
    for (const sentence& doubt : loin.doubts) section.points.push_back(in_units(doubt, units));
    return section;
}

/// The sections of one loin, as its own report has them. `alone`: whether it is the only one.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> sections_of_loin(const sheet_answer& answer, std::size_t i,
                                                                        bool alone, bool pictures) {
    const kitchen_units units = kitchen_of(answer.sheet);
    const loin_answer& loin = answer.loins[i];
    std::vector<report_section> sections;
    if (loin.settled) {
        report_options<chosen_currency> options{.saved = loin.saved, .units = units, .basis = answer.sheet.basis};
        if (alone) options.offers = answer.offers;
        sections = report_sections(loin.planned, *loin.settled, options);
        if (pictures) add_pictures<chosen_currency>(sections, *loin.settled, loin.saved, units);
    } else
        sections = report_sections(loin.planned, units);
    // A guess is known for one before anything else is read of it.
    if (loin.guess) sections.front().paragraphs.push_back(guess_words(*loin.guess, units));
    if (loin.chances) sections.front().paragraphs.push_back(chances_words(*loin.chances, units));
    if (arrived_warm(answer.sheet.loins[i]))
        sections.insert(
            sections.begin() + 1,
            {.title = "Warnings", .points = {std::string(detail::warm_words)}, .is = report_section::part::warning});
    report_section readings = readings_section(answer, i, units);
    if (loin.guess) readings.points.erase(readings.points.begin());
    if (!readings.tables.empty() || !readings.points.empty()) put_in(sections, std::move(readings));
    if (loin.planned.feasible() && answer.sheet.plan_for == sheet_aim::even_portions)
        put_in(sections, evenness(loin.planned.plan, units));
    if (loin.planned.feasible() && answer.sheet.plan_for == sheet_aim::fewest_settings)
        put_in(sections, settings_section(loin.planned));
    if (loin.found)
        for (report_section& section : what_if_sections<chosen_currency>(*loin.found, prices_of(answer.sheet), units))
            put_in(sections, std::move(section));
    return sections;
}

/// What is said of all loins together: thicknesses, grind, menu, case and labels.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> sections_of_all(const sheet_answer& answer, bool pictures) {
    using part = report_section::part;
    const cut_sheet& sheet = answer.sheet;
    const kitchen_units units = kitchen_of(sheet);
    std::vector<report_section> sections;
    if (!answer.thicknesses.empty()) {
        sections.push_back({.title = "Thicknesses side by side", .tables = {thicknesses_table(answer, units)}});
        if (pictures) sections.back().pictures.push_back(thicknesses_picture(answer, units));
        sections.back().paragraphs.push_back("Everything else here is for the first of them, " +
                                             to_text(answer.thicknesses.front().thickness, units.thickness) + '.');
    }
    if (!answer.menu.empty())
        sections.push_back({.title = "On the menu",
                            .tables = {menu_table(answer.menu, sheet.menu->food_cost)},
                            .paragraphs = {"By the portion, on average; menu prices are before tax and service."}});
    if (sheet.retail && answer.all.primary_value) {
        report_section section{.title = "In the case",
                               .tables = {margins_table(answer.all, units), loin_margins_table(answer)}};
        if (sheet.retail->share_cost_by == cost_share::sales_value)
            section.paragraphs.emplace_back("Portions carry the cost by what their cut sells for.");
        if (sheet.retail->shrink > 0.0)
            section.paragraphs.push_back("Sales are without the " + percent_text(sheet.retail->shrink) +
                                         " of the packs that are never sold.");
        if (sheet.retail->margin)
            section.paragraphs.push_back("Price needed: at which a margin of " + percent_text(*sheet.retail->margin) +
                                         " of sales is left.");
        if (answer.all.purge.count > 0)
            section.paragraphs.push_back(
                "Purge is " + percent_text(to_mass(answer.all.purge) / to_mass(answer.all.bought)) +
                " of what was bought: " + to_text(*answer.all.purge_cost) + ", which the portions carry.");
        sections.push_back(std::move(section));
    }
    if (answer.grind) {
        sections.push_back({.title = "Grind",
                            .paragraphs = {grind_words(*answer.grind, sheet, units)},
                            .is = answer.grind->made ? part::plain : part::behind});
        if (answer.grind->made) {
            sections.push_back(blend_section(*answer.grind->made, units, "The blend"));
            sections.back().is = part::behind;
        }
    }
    if (!answer.labels.empty()) {
        std::vector<pack_label<chosen_currency>> labels;
        for (const sheet_label& label : answer.labels) labels.push_back(label.label);
        sections.push_back(labels_section<chosen_currency>(labels, label_rules_of(sheet)));
        sections.back().is = part::behind;
    }
    if (!answer.remarks.empty()) {
        sections.push_back({.title = "Remarks", .is = part::behind});
        for (const sentence& remark : answer.remarks) sections.back().points.push_back(in_units(remark, units));
    }
    return sections;
}

/// Puts what an order says into the answer, and its sections in front of the one `at`.
template <class = when_called>
TRANCHE_COLD void add_order(std::vector<report_section>& sections, std::size_t at, const sheet_order_answer& order,
                            const kitchen_units& units) {
    std::vector<std::string> lines = order_lines(order.account);
    if (order.chances) lines.push_back(order_chances_words(*order.chances));
    std::vector<std::string>& answer = sections.front().paragraphs;
    answer.insert(answer.begin(), std::make_move_iterator(lines.begin()), std::make_move_iterator(lines.end()));
    std::vector<report_section> own =
        order_sections(order.account, {.units = units, .helps = order.helps, .suppliers = order.suppliers});
    std::erase_if(own, [](const report_section& section) {
        return section.is != report_section::part::plain || section.title == "Cautions";
    });
    for (report_section& section : own)
        if (section.title == order_suppliers_title)
            section.paragraphs.emplace_back("The loins of this sheet, bought at the price of each offer of loins.");
    sections.insert(sections.begin() + static_cast<std::ptrdiff_t>(at), std::make_move_iterator(own.begin()),
                    std::make_move_iterator(own.end()));
}

/// The sections of the answer; with pictures of money and thicknesses for a page.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<report_section> answer_sections(const sheet_answer& answer, bool pictures) {
    const currency_choice choice(currency_of_sheet(answer.sheet));
    const kitchen_units units = kitchen_of(answer.sheet);
    std::vector<report_section> more = sections_of_all(answer, pictures);
    if (answer.loins.size() == 1 && answer.loins.front().opened) {
        std::vector<report_section> sections = sections_of_loin(answer, 0, true, pictures);
        std::size_t top = 0;
        while (top < sections.size() &&
               (sections[top].is == report_section::part::answer || sections[top].is == report_section::part::warning))
            ++top;
        const bool first = !answer.thicknesses.empty();
        if (first) {
            sections.insert(sections.begin() + static_cast<std::ptrdiff_t>(top), std::move(more.front()));
            more.erase(more.begin());
        }
        if (answer.order) add_order(sections, top, *answer.order, units);
        for (report_section& section : more) put_in(sections, std::move(section));
        return sections;
    }
    std::vector<report_section> sections{
        {.title = "The answer", .paragraphs = total_lines(answer, units), .is = report_section::part::answer},
        {.title = answer.order ? "Loins that are opened" : "All loins",
         .tables = {loins_table(answer, units), cuts_table(answer.all, units)}},
        {.title = "Cautions", .points = cautions()}};
    if (answer.all.loins == 0) // the order opens none
        sections.erase(sections.begin() + 1);
    else
        put_in(sections,
               {.title = answer.order ? "Where the mass of the opened loins went" : "Where the mass of all loins went",
                .tables = {delivery_table(answer.all, units)},
                .is = report_section::part::behind});
    if (answer.all.credit)
        sections[2].paragraphs.push_back(to_text(*answer.all.paid) + " paid, less " + to_text(*answer.all.credit) +
                                         " for by-products: the portions carry " + to_text(*answer.all.primary_value) +
                                         '.');
    if (answer.order) add_order(sections, 1, *answer.order, units);
    for (report_section& section : more) put_in(sections, std::move(section));
    if (!answer.offers.empty())
        put_in(sections, {.title = "Offers, by the cost of an edible portion",
                          .tables = {offers_table(answer.offers, units)},
                          .is = report_section::part::behind});
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        if (!answer.loins[i].opened) continue;
        std::vector<report_section> own = sections_of_loin(answer, i, false, pictures);
        own.pop_back(); // the cautions stand once
        const std::string name = "Loin " + answer.loins[i].name;
        for (std::size_t s = 0; s < own.size(); ++s) {
            own[s].title = s == 0 ? name : name + ": " + own[s].title;
            if (s == 0) own[s].is = report_section::part::plain;
            put_in(sections, std::move(own[s]));
        }
    }
    return sections;
}

} // namespace detail

/// The sections of the answer to a sheet, in the units of its kitchen: the answer first, then the cutting order of each
/// loin, then what lies behind; of several loins what they come to together first. Throws as `to_text` for what cannot
/// be written.
template <class = detail::when_called>
[[nodiscard]] std::vector<report_section> answer_sections(const sheet_answer& answer) {
    return detail::answer_sections(answer, false);
}

} // namespace tranche
