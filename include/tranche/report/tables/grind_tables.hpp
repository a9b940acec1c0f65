// A blend of grind as tables, a report section and comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/grind/blend.hpp>
#include <tranche/grind/fat_square.hpp>
#include <tranche/grind/own_trim.hpp>
#include <tranche/grind/trim_in_blend.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/figure_lines.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// "at most 20.0 %", "20.0 %", "15.0 % to 20.0 %".
[[nodiscard]] TRANCHE_COLD inline std::string fat_range_text(const fat_range& fat, int digits) {
    if (fat.min == fat.max) return percent_text(fat.max, digits);
    return (fat.min > 0.0 ? percent_text(fat.min, digits) + " to " : "at most ") + percent_text(fat.max, digits);
}

} // namespace detail

namespace detail {

/// A source of a blend and its line, whatever the currency. Prices are those of a kilogram.
struct blend_source_figures {
    const std::string* name = nullptr;
    fraction fat = 0.0;
    double price = 0.0;
    quantity_range<mass> supply{};
    // If the blend is made:
    micrograms weight{};
    std::int64_t cost = 0;
    double worth = 0.0;
};
/// A blend, whatever the currency.
struct blend_figures {
    bool made = false;
    std::vector<blend_source_figures> sources{};
    fraction fat = 0.0;
    double cost_by_weight = 0.0;
    micrograms batch{};
    std::int64_t cost = 0;
};
template <currency C>
[[nodiscard]] blend_figures figures_of(const blend<C>& b) {
    blend_figures figures{b.made(), {}, b.fat, 0.0, b.batch, b.cost.minor};
    if (b.made()) figures.cost_by_weight = b.cost_by_weight().value();
    for (const grind_source<C>& s : b.sources) {
        figures.sources.push_back({&s.name, s.fat, s.price.value(), s.supply});
        if (!b.made()) continue;
        blend_source_figures& source = figures.sources.back();
        const blend_line<C>& line = b.lines[figures.sources.size() - 1];
        source.weight = line.weight;
        source.cost = line.cost.minor;
        source.worth = b.worth_of(s.fat).value();
    }
    return figures;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table blend_table(const blend_figures& b, const iso_currency& in,
                                                    const kitchen_units& units) {
    const auto right = report_table::align::right;
    const std::string per = price_unit(in, units), bulk = unit_name(units.bulk);
    report_table table;
    table.columns = {{"Source"}, {"Fat", right}, {"Price, " + per, right}};
    const auto add = [&](const std::string& name, fraction fat, double price, const std::vector<std::string>& more) {
        report_table::row row{.cells = {name, percent_text(fat), price_number(price, in, units)}};
        row.cells.insert(row.cells.end(), more.begin(), more.end());
        table.rows.push_back(std::move(row));
    };
    if (!b.made) {
        table.columns.push_back({headed_in("Supply", bulk), right});
        for (const blend_source_figures& s : b.sources)
            add(*s.name, s.fat, s.price,
                {s.supply.max == unlimited<mass>() ? "any" : number_of(s.supply.max, units.bulk)});
        return table;
    }
    for (const std::string& head :
         {headed_in("Weight", bulk), std::string("Share"), "Cost, " + in.code, "Worth, " + per})
        table.columns.push_back({head, right});
    for (const blend_source_figures& s : b.sources)
        add(*s.name, s.fat, s.price,
            {number_of(to_mass(s.weight), units.bulk), percent_text(to_mass(s.weight) / to_mass(b.batch)),
             money_number(s.cost, in), price_number(s.worth, in, units)});
    add("the blend", b.fat, b.cost_by_weight,
        {number_of(to_mass(b.batch), units.bulk), percent_text(1.0), money_number(b.cost, in), ""});
    table.rows.back().total = true;
    return table;
}

/// What was asked of a blend and within what; see `blend`.
struct blend_facts {
    blend_outcome outcome{};
    fat_range wanted{};
    legal_fat_limit limit{};
    fraction most_fat = 0.0;
    std::optional<fraction> leanest{}, fattest{};
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table blend_facts_table(const blend_facts& b) {
    figure_lines add(report_table::align::left);
    int digits = 1;
    if (b.outcome == blend_outcome::over_the_limit) digits = digits_apart(b.wanted.min, b.limit.most, digits);
    if (b.outcome == blend_outcome::too_fat) digits = digits_apart(*b.leanest, b.most_fat, digits);
    if (b.outcome == blend_outcome::too_lean) digits = digits_apart(*b.fattest, b.wanted.min, digits);
    add("Fat asked for", fat_range_text(b.wanted, digits));
    add("Legal limit", percent_text(b.limit.most, digits) + ", " + b.limit.law);
    if (b.leanest) add("Leanest within the supplies", percent_text(*b.leanest, digits));
    if (b.fattest) add("Fattest within the supplies", percent_text(*b.fattest, digits));
    return std::move(add).table();
}

} // namespace detail

/// Each source with its fat, price, weight, share of the batch, cost, and what one more of it would be worth in the blend;
/// the last row is the blend. Of a blend that is not made only fat, price and supply are known. Weights, lengths and
/// prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table blend_table(const blend<C>& b, const kitchen_units& units) {
    return detail::blend_table(detail::figures_of(b), detail::iso_form<C>(), units);
}

/// What was asked for, the limit and its law, and how lean and fat the supplies could be made; with as many decimals as it
/// takes to see why a blend is not made. Shares in per cent. Takes what the library made at its word; throws as
/// `to_text` for a number that is not finite.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table blend_facts_table(const blend<C>& b) {
    return detail::blend_facts_table({b.outcome, b.wanted, b.limit, b.most_fat(), b.leanest, b.fattest});
}

/// A two-source square with its parts (percentage points of fat) and shares, and the weights of a batch; the last row
/// is the blend. Throws as the square, and for a batch that is not above zero. O(1). Fat and shares in per cent,
/// weights in `units`.
[[nodiscard]] TRANCHE_COLD inline report_table fat_square_table(const fat_square& square,
                                                                const std::string& name_of_first,
                                                                const std::string& name_of_second, mass batch,
                                                                const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Source"},
                     {"Fat", right},
                     {"Parts", right},
                     {"Share", right},
                     {detail::headed_in("Weight", detail::unit_name(units.bulk)), right}};
    const auto add = [&](const std::string& name, fraction fat, double parts, fraction share, micrograms weight) {
        table.rows.push_back({.cells = {name, percent_text(fat), to_text(parts, 1), percent_text(share),
                                        detail::number_of(to_mass(weight), units.bulk)}});
    };
    const detail::square_masses masses = square.masses(batch);
    add(name_of_first, square.first, square.parts_of_first(), square.share_of_first(), masses.first);
    add(name_of_second, square.second, square.parts_of_second(), square.share_of_second(), masses.second);
    add("the blend", square.target, square.parts_of_first() + square.parts_of_second(), 1.0,
        masses.first + masses.second);
    table.rows.back().total = true;
    return table;
}

/// What a plan leaves for the grinder: each tissue of which there is some, loose and trimmed off, with its lipid; the
/// last row adds up, with the fat of all of it. Throws as `fat_of`. O(1). Lipid and fat in per cent, weights in
/// `units`; lipids are 0 to 1.
[[nodiscard]] TRANCHE_COLD inline report_table own_trim_table(const own_trim& own, const by_tissue<fraction>& lipids,
                                                              const kitchen_units& units) {
    const auto right = report_table::align::right;
    const std::string unit = detail::unit_name(units.bulk);
    report_table table;
    table.columns = {{"Tissue"},
                     {detail::headed_in("Loose meat", unit), right},
                     {detail::headed_in("Trim", unit), right},
                     {detail::headed_in("Together", unit), right},
                     {"Fat", right}};
    const auto add = [&](const std::string& name, micrograms loose, micrograms trim, const std::string& fat) {
        const auto written = [&](micrograms m) { return detail::number_of(to_mass(m), units.bulk); };
        table.rows.push_back({.cells = {name, written(loose), written(trim), written(loose + trim), fat}});
    };
    const std::optional<fraction> fat = fat_of(own, lipids);
    for (const tissue t : all_tissues)
        if ((own.loose[t] + own.trim[t]).count != 0)
            add(std::string(name_of(t)), own.loose[t], own.trim[t], percent_text(lipids[t]));
    add("all", own.loose.sum(), own.trim.sum(), fat ? percent_text(*fat) : "");
    table.rows.back().total = true;
    return table;
}

namespace detail {

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_section blend_section(const std::string& title, std::vector<report_table> tables,
                                                        bool made, bool least_purchase,
                                                        std::vector<std::string> why_not) {
    report_section section{.title = title, .tables = std::move(tables)};
    if (made)
        section.paragraphs.push_back(
            std::string(
                least_purchase
                    ? "Worth is what one more of a source would save in purchases, with nothing counted for the "
                      "larger batch; below zero is what it would cost. "
                    : "Worth is what one more of a source would be worth in this blend. ") +
            "A source that costs less than its worth is used up, one that costs more is in only as far as it has to "
            "be. "
            "Weights add up to the batch exactly, and the fat is not over the limit by rounding either. Fat contents "
            "are "
            "as given: an analysis of the meat in hand counts, not a table.");
    section.paragraphs.emplace_back(
        "The fat limit is the one that the caller named. Limits, names and inspection of ground meat follow local law "
        "and "
        "licensed practice, and goods sold by weight need a legal-for-trade scale. Least internal temperature for US "
        "consumers (USDA FSIS): ground meat 160 °F (71.1 °C).");
    section.points = std::move(why_not);
    return section;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string blend_csv(const blend_figures& b, const iso_currency& in) {
    std::string text = csv_record(
        {"role", "source", "fat", "price_per_kg", "least_g", "most_g", "weight_g", "cost", "worth_per_kg", "currency"});
    for (const blend_source_figures& s : b.sources) {
        const bool open = s.supply.max == unlimited<mass>();
        text += csv_record({"source", csv_text(*s.name), shown(s.fat, 9), csv_per_kilogram(s.price, in),
                            csv_grams(to_micrograms(s.supply.min)), open ? "" : csv_grams(to_micrograms(s.supply.max)),
                            b.made ? csv_grams(s.weight) : "", b.made ? money_number(s.cost, in) : "",
                            b.made ? csv_per_kilogram(s.worth, in) : "", in.code});
    }
    if (!b.made) return text;
    return text + csv_record({"blend", "", shown(b.fat, 9), csv_per_kilogram(b.cost_by_weight, in), "", "",
                              csv_grams(b.batch), money_number(b.cost, in), "", in.code});
}

} // namespace detail

/// The section of a blend, with what is in its way if it is not made, and the cautions that ground meat needs. Weights,
/// lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_section blend_section(const blend<C>& b, const kitchen_units& units,
                                                        const std::string& title = "Grind") {
    return detail::blend_section(title, {blend_facts_table(b), blend_table(b, units)}, b.made(), b.least_purchase,
                                 b.why_not(units.bulk));
}

/// One record a source, then the blend; heads in the first record. Weights add up to the batch and costs to its cost,
/// both exactly; of a blend that is not made they are empty, and so is the most of a supply without an end. Throws as
/// `to_text` for a number that cannot be written. Weights are grams, fat is a share by mass, prices are per kilogram.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string blend_csv(const blend<C>& b) {
    return detail::blend_csv(detail::figures_of(b), detail::iso_form<C>());
}

} // namespace tranche
