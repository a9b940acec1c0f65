// What of an answer is printed and laid beside the work: a board card a loin, a card a cut, a label a pack.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/board_card.hpp>
#include <tranche/report/card_sheet.hpp>
#include <tranche/report/page_foot.hpp>
#include <tranche/report/pictures/loin_outline.hpp>
#include <tranche/sheet/answer_csv.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/date.hpp>
#include <tranche/units/chosen_currency.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche {

namespace detail {

/// By what a page tells of which sheet it was made.
[[nodiscard]] inline page_foot foot_of(const cut_sheet& sheet) {
    return {.date = sheet.date ? date_text(*sheet.date) : "", .sheet = sheet.title};
}
[[nodiscard]] inline card_paper paper_of(const cut_sheet& sheet) {
    return sheet.units == sheet_units::metric ? card_paper::a4 : card_paper::us_letter;
}

/// What whoever cuts, cooks and sells a portion has to know of it.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD printed_card portion_card(const cut_account& cut, const cut_spec& spec,
                                                     const sheet_answer& answer, const kitchen_units& units) {
    const auto range = [](const std::string& low, const std::string& high) {
        return low == high ? low : low + " to " + high;
    };
    printed_card card{.heading = cut.name};
    const auto line = [&](const char* name, const std::string& value) { card.lines.emplace_back(name, value); };
    const auto weight = [&](micrograms m) { return to_text(to_mass(m), units.portion); };
    line("Portions planned", std::to_string(cut.portions));
    line("Weight of one", range(weight(cut.lightest), weight(cut.heaviest)));
    const bool bounded = spec.portion.max<unlimited<mass>(), least = spec.portion.min> mass{};
    if (bounded || least)
        line("Must weigh",
             !bounded ? "at least " + to_text(spec.portion.min, units.portion)
             : !least ? "at most " + to_text(spec.portion.max, units.portion)
                      : range(to_text(spec.portion.min, units.portion), to_text(spec.portion.max, units.portion)));
    if (spec.pieces > 1) line("From one slice", std::to_string(spec.pieces) + " portions");
    line("Thick",
         spec.thickness.max < unlimited<length>()
             ? range(to_text(spec.thickness.min, units.thickness), to_text(spec.thickness.max, units.thickness))
             : "at least " + to_text(spec.thickness.min, units.thickness));
    const auto opened =
        std::find_if(answer.loins.begin(), answer.loins.end(), [](const loin_answer& loin) { return loin.opened; });
    if (opened != answer.loins.end()) line("Trim", trim_text(spec.trim, opened->planned.plan, units));
    if (const auto each = cut.cost_each()) line("Cost each", to_text(*each));
    for (const menu_line& on_menu : answer.menu) {
        if (on_menu.cut != cut.name) continue;
        if (on_menu.price) line("Price on the menu", to_text(*on_menu.price));
        if (on_menu.food_cost) line("Food cost of that", percent_text(*on_menu.food_cost));
        if (on_menu.price_needed) line("Price it needs", to_text(*on_menu.price_needed));
    }
    return card;
}

} // namespace detail

/// The board card of each loin that is opened (`board_card`), on US Letter for a sheet in US units and on A4 for a
/// metric one: board_card.html; of several loins with "loin_1_" in front, and so on. Throws as that. Quantities are
/// written in the units of the sheet.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<answer_file> board_cards(const sheet_answer& answer) {
    const cut_sheet& sheet = answer.sheet;
    const bool several = answer.loins.size() > 1;
    std::vector<answer_file> files;
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        const loin_answer& loin = answer.loins[i];
        if (!loin.opened) continue;
        board_card_options options{
            .paper = detail::paper_of(sheet), .units = kitchen_of(sheet), .made = detail::foot_of(sheet)};
        if (!sheet.loins[i].lot.empty())
            options.made.sheet += (options.made.sheet.empty() ? "lot " : ", lot ") + sheet.loins[i].lot;
        const std::string title = sheet.title + (several ? ", loin " + loin.name : "");
        files.push_back({(several ? "loin_" + std::to_string(i + 1) + '_' : "") + "board_card.html",
                         board_card(title, loin.planned.plan, outline_of(loin.loin), options)});
    }
    return files;
}

/// A page of cards, one for each cut that has portions: weight planned and allowed, thickness, trim, cost and menu price. Throws as
/// `to_text` for what cannot be written. O(cuts × slabs).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string portion_cards(const sheet_answer& answer) {
    const currency_choice choice(detail::currency_of_sheet(answer.sheet));
    const kitchen_units units = kitchen_of(answer.sheet);
    std::vector<printed_card> cards;
    for (std::size_t i = 0; i < answer.all.cuts.size(); ++i)
        if (answer.all.cuts[i].portions > 0)
            cards.push_back(detail::portion_card(answer.all.cuts[i], answer.sheet.cuts[i].spec, answer, units));
    return card_sheet(answer.sheet.title, cards,
                      "Weights and costs are those of the plan: weigh every portion. Steaks 145 °F (62.8 °C) with 3 "
                      "minutes of rest, ground meat 160 °F (71.1 °C), are the least for US consumers (USDA FSIS).",
                      {.paper = detail::paper_of(answer.sheet), .made = detail::foot_of(answer.sheet)});
}

/// A page of the labels that the plan foresees (`sheet_answer::labels`): product, net weight, tare where there is
/// one, prices, dates, lot. They show what is to come: goods are labelled from a legal-for-trade scale, and the page says so.
/// Throws as `to_text`. O(labels).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string label_sheet(const sheet_answer& answer) {
    const cut_sheet& sheet = answer.sheet;
    const currency_choice choice(detail::currency_of_sheet(sheet));
    std::vector<printed_card> cards;
    for (const sheet_label& label : answer.labels) {
        const pack_label<chosen_currency>& l = label.label;
        printed_card card{.heading = l.product};
        card.lines = {{"Net weight", l.net.text()}, {"Unit price", l.price.text()}, {"Total price", to_text(l.total)}};
        if (l.tare > mass{})
            card.lines.insert(card.lines.begin() + 1, {"Tare", detail::text_in_full(l.tare, l.net.division)});
        if (sheet.retail && sheet.retail->packed_on)
            card.lines.emplace_back("Packed on", date_text(*sheet.retail->packed_on));
        if (sheet.retail && sheet.retail->sell_by)
            card.lines.emplace_back("Sell by", date_text(*sheet.retail->sell_by));
        if (const std::string& lot = sheet.loins[label.loin].lot; !lot.empty()) card.lines.emplace_back("Lot", lot);
        cards.push_back(std::move(card));
    }
    return card_sheet(
        sheet.title, cards,
        "As the plan foresees them. Goods sold by weight are labelled from a legal-for-trade scale; what a "
        "label must say follows local law.",
        {.paper = detail::paper_of(sheet), .columns = 3, .made = detail::foot_of(sheet)});
}

/// All that is printed as cards: the board cards, portion_cards.html where a cut has portions, labels.html where there
/// are labels. Throws as those.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::vector<answer_file> answer_cards(const sheet_answer& answer) {
    std::vector<answer_file> files = board_cards(answer);
    if (answer.all.portions() > 0) files.push_back({"portion_cards.html", portion_cards(answer)});
    if (!answer.labels.empty()) files.push_back({"labels.html", label_sheet(answer)});
    return files;
}

} // namespace tranche
