// What the answer to a sheet says in words: how far a guess goes, where the trim stands, what the delivery came to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/sheet/detail/answer_tables.hpp>
#include <tranche/sheet/detail/sheet_grind.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/text/date.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// "14 to 16", or "16" where both ends read alike.
[[nodiscard]] TRANCHE_COLD inline std::string from_to(const std::string& least, const std::string& most) {
    return least == most ? least : least + " to " + most;
}

/// That a loin is a guess, and what other loins of its weight would give.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string guess_words(const guess_spread& guess, const kitchen_units& units) {
    const bool length = guess.length_spread == 0.0;
    std::string says =
        "A guess: this is a typical " + guess.kind + " of that " + (length ? "weight and length" : "weight") + ". ";
    says += length ? "Loins differ in their fat"
                   : "Loins of that weight differ in length (standard deviation " + percent_text(guess.length_spread) +
                         ") and in their fat";
    if (guess.most == 0 && guess.heaviest.count == 0) return says + ". Tape readings at two stations would tell more.";
    says += ": one in which either is a standard deviation off gives " +
            from_to(std::to_string(guess.fewest), std::to_string(guess.most)) + " portions, " +
            from_to(to_text(to_mass(guess.lightest), units.bulk), to_text(to_mass(guess.heaviest), units.bulk)) +
            " in all";
    if (guess.least) says += ", at " + from_to(to_text(*guess.least), to_text(*guess.dearest)) + " each";
    says += ". A single slice of given thickness weighs more or less by " + percent_text(guess.slice_weight_spread, 0) +
            " (standard deviation). Tape readings at two stations would tell more.";
    return says;
}

/// What a study says of a loin.
/// How often an order is filled, and what is missing.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string order_chances_words(const order_chances& chances) {
    return "Cut like that the order is filled " + percent_text(chances.filled, 0) +
           " of the time; missing on average: " + to_text(chances.missing, 2) + " portions. Of " +
           std::to_string(chances.evenings) + " evenings that were drawn, nothing planned again while cutting.";
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string chances_words(const loin_chances& chances, const kitchen_units& units) {
    const auto pieces = [](std::size_t least, std::size_t most) {
        return from_to(std::to_string(least), std::to_string(most));
    };
    const bool whole = std::abs(100.0 * chances.sure - std::round(100.0 * chances.sure)) < 1e-6;
    std::string says = chances.sure == 0.9 ? std::string("9 times out of 10")
                                           : percent_text(chances.sure, whole ? 0 : 1) + " of the time";
    says += ": " + pieces(chances.fewest, chances.most) + " portions";
    if (chances.fewest != chances.fewest_within || chances.most != chances.most_within)
        says += ", " + pieces(chances.fewest_within, chances.most_within) + " of them of a weight that is allowed";
    says += "; none lighter than " + to_text(to_mass(chances.lightest), units.portion) + ", none heavier than " +
            to_text(to_mass(chances.heaviest), units.portion) + "; a yield of " +
            from_to(percent_text(chances.least_yield, 0), percent_text(chances.most_yield, 0));
    if (chances.least) says += "; " + from_to(to_text(*chances.least), to_text(*chances.dearest)) + " each";
    says += ". Of " + std::to_string(chances.loins) + " loins like this one, drawn and cut by ";
    says += chances.planned_once ? "this plan" : "a plan each";
    if (chances.impossible > 0) says += "; " + std::to_string(chances.impossible) + " that cannot be are left out";
    return says + '.';
}

/// How fat the trim for grind is, and what it takes.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string grind_words(const grind_answer& grind, const cut_sheet& sheet,
                                                   const kitchen_units& units) {
    const auto bulk = [&](micrograms m) { return to_text(to_mass(m), units.bulk); };
    std::string says =
        "What goes to grind is " + bulk(grind.own.total()) + " at " + percent_text(grind.fat, 0) + " fat";
    if (!sheet.grind) {
        const legal_fat_limit limit = limit_on(sheet);
        if (grind.fat > limit.most)
            return says + ", more than the " + percent_text(limit.most, 0) + " that ground beef may have (" +
                   limit.law +
                   "): it is no ground beef without lean meat added. It counts at what the sheet says it is worth.";
        return says + '.';
    }
    const std::string lean = " of lean meat (" + percent_text(sheet.grind->lean_fat, 0) + " fat)";
    if (!grind.made || !grind.made->made())
        return says + ": with" + lean.substr(3) + " it cannot be made into the grind asked for.";
    if (grind.lean_needed.count == 0)
        says += ", lean enough for " + percent_text(grind.wanted, 0);
    else
        says += "; for " + percent_text(grind.made->fat, 0) + " add " + bulk(grind.lean_needed) + lean +
                ", which makes " + bulk(grind.made->batch);
    if (grind.worth)
        return says + ". The trim brings " + to_text(*grind.worth, units.basis) +
               (grind.lean_needed.count == 0
                    ? " as it is."
                    : " of what the grind sells for once the lean is paid, and is credited at that.");
    return says + ". It is credited at nothing: what the grind sells for" +
           (sheet.grind->lean_price ? "" : " and what the lean costs") + " is not on the sheet.";
}

/// The two or three lines on top of the answer for several loins.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<std::string> total_lines(const sheet_answer& answer,
                                                                const kitchen_units& units) {
    const sheet_account& all = answer.all;
    if (all.loins == 0) return {};
    std::string first = std::to_string(all.loins) + (all.loins == 1 ? " loin, " : " loins, ") +
                        to_text(to_mass(all.bought), units.bulk) + (answer.order ? " opened: " : " bought: ");
    std::size_t cuts = 0;
    for (const cut_account& of : all.cuts) cuts += of.portions > 0 ? 1U : 0U;
    if (cuts != 1) first += std::to_string(all.portions()) + " portions" + (cuts > 0 ? ": " : "");
    const char* between = "";
    for (const cut_account& of : all.cuts) {
        if (of.portions == 0) continue;
        first += between + std::to_string(of.portions) + " × " + of.name + " of " +
                 from_to(to_text(to_mass(of.lightest), units.portion), to_text(to_mass(of.heaviest), units.portion));
        if (const auto each = of.cost_each()) first += ", " + to_text(*each) + " each on average";
        between = "; ";
    }
    std::vector<std::string> lines{first + '.'};
    std::string second = "Yield " + percent_text(all.yield()) + " of what was bought";
    if (all.paid) second += "; " + to_text(*all.paid) + " paid";
    lines.push_back(second + '.');
    for (const saving_account& saved : all.saved) lines.push_back("Cutting " + saving_words(saved, units) + '.');
    std::size_t failed = 0;
    for (const loin_answer& loin : answer.loins) failed += !loin.opened || loin.planned.feasible() ? 0U : 1U;
    if (failed > 0)
        lines.push_back("Of " + std::to_string(failed) + (failed == 1 ? " loin" : " loins") +
                        " there is no plan with all that was asked for: see its warnings.");
    return lines;
}

/// Where the meat comes from and who cuts it; nothing if the sheet does not say.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table identity_table(const cut_sheet& sheet, const sheet_loin& loin) {
    report_table table{.columns = {{""}, {""}}};
    const auto add = [&](const char* what, const std::string& value) {
        if (!value.empty()) table.rows.push_back({.cells = {what, value}});
    };
    if (sheet.date) add("Date", date_text(*sheet.date));
    add("Cut by", sheet.cutter);
    add("Lot", loin.lot);
    add("Supplier", loin.supplier);
    if (loin.on_arrival)
        add("On arrival",
            to_text(loin.on_arrival->celsius, 1) + " °C (" + to_text(loin.on_arrival->fahrenheit(), 0) + " °F)");
    return table;
}

/// Too warm for raw meat: 40 °F (4 °C), see `cautions`.
[[nodiscard]] inline bool arrived_warm(const sheet_loin& loin) {
    return loin.on_arrival && loin.on_arrival->fahrenheit() > 40.0;
}
inline constexpr std::string_view warm_words =
    "It arrived warmer than 40 °F (4 °C): follow local food codes before it is cut.";

/// The lightest and the heaviest portion of a plan that has some.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_section evenness(const cutting_plan& cuts, const kitchen_units& units) {
    std::vector<micrograms> portions;
    for (const slab& piece : cuts.slabs)
        for (const micrograms portion : cuts.portions_of(piece)) portions.push_back(portion);
    const auto [lightest, heaviest] = std::minmax_element(portions.begin(), portions.end());
    report_table table{.columns = {{""}, {""}}};
    table.rows = {
        {.cells = {"Lightest portion", to_text(to_mass(*lightest), units.portion)}},
        {.cells = {"Heaviest portion", to_text(to_mass(*heaviest), units.portion)}},
        {.cells = {"Apart by", to_text(to_mass(*heaviest - *lightest), mass_division{units.portion.in, 100})}}};
    return {.title = "Evenness", .tables = {table}, .is = report_section::part::behind};
}

/// How many settings of a slicer a plan for the fewest takes; `fewest_settings` has them, negative, in its score.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_section settings_section(const planned& few) {
    const auto settings = static_cast<std::size_t>(-few.score_parts.at(1).value),
               at_least = static_cast<std::size_t>(-few.score_parts.at(1).bound);
    return {.title = "Settings of the slicer",
            .paragraphs = {std::to_string(settings) + (settings == 1 ? " thickness" : " thicknesses") + ", " +
                           (at_least == settings ? "and fewer would not do for as many portions."
                                                 : "not proven fewest: " + std::to_string(at_least) +
                                                       " might do for as many portions.")},
            .is = report_section::part::behind};
}

} // namespace tranche::detail
