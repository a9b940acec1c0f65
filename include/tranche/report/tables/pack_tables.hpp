// Ready-cut packs as tables and as CSV: what the wanted muscle costs in each, and the tolerances they keep.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <tranche/packs/pack_appraisal.hpp>
#include <tranche/packs/pack_tolerances.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/telling_apart.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// A `pack_appraisal`, whatever the currency. Prices are those of a kilogram.
struct pack_figures {
    const std::string* name = nullptr;
    int pieces = 0;
    mass weight{};
    const pack_contents* contents = nullptr;
    micrograms wanted{}, excess_fat{}, excess_tail{};
    std::int64_t paid = 0, paid_for_excess_fat = 0, paid_for_excess_tail = 0;
    double price = 0.0;
    std::optional<double> per_wanted{}, per_wanted_credited{};
    fraction wanted_share = 0.0, fat_share = 0.0;
};
template <currency C>
[[nodiscard]] std::vector<pack_figures> figures_of(const std::vector<pack_appraisal<C>>& packs) {
    std::vector<pack_figures> figures;
    figures.reserve(packs.size());
    for (const pack_appraisal<C>& p : packs)
        figures.push_back({&p.pack.name, p.pack.pieces, p.pack.weight, &p.contents, p.wanted, p.excess_fat,
                           p.excess_tail, p.paid.minor, p.paid_for_excess_fat.minor, p.paid_for_excess_tail.minor,
                           p.pack.price.value(), plain(p.per_wanted), plain(p.per_wanted_credited), p.wanted_share(),
                           p.fat_share()});
    return figures;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table packs_table(const std::vector<pack_figures>& packs, const iso_currency& in,
                                                    const kitchen_units& units) {
    const auto right = report_table::align::right;
    report_table table;
    table.caption = "Ready-cut packs, the cheapest wanted lean first; prices in " + price_unit(in, units);
    table.columns = {{"", right},
                     {"Pack"},
                     {"Label", right},
                     {"Wanted lean", right},
                     {"with credits", right},
                     {"Lean", right},
                     {"Fat", right},
                     {headed_in("Excess fat", unit_name(units.portion)), right},
                     {"Paid for it, " + in.code, right}};
    const auto number = [&](const std::optional<double>& price) {
        return price ? price_number(*price, in, units) : std::string("none");
    };
    for (std::size_t i = 0; i < packs.size(); ++i) {
        const pack_figures& p = packs[i];
        table.rows.push_back(
            {.cells = {std::to_string(i + 1), *p.name, number(p.price), number(p.per_wanted),
                       number(p.per_wanted_credited), percent_text(p.wanted_share), percent_text(p.fat_share),
                       number_of(to_mass(p.excess_fat), units.portion), money_number(p.paid_for_excess_fat, in)}});
    }
    return table;
}

} // namespace detail

/// One row a pack, in the order given (`rank_packs`): the price on the label, what the wanted lean costs with the rest
/// worth nothing and with it credited, the shares of wanted lean and fat, and the excess fat with what was paid for it.
/// Throws `invalid_input` for a number of more than 15 digits. O(packs). Weights, lengths and prices are written in
/// `units`, shares in per cent.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table packs_table(const std::vector<pack_appraisal<C>>& packs,
                                                    const kitchen_units& units = us_kitchen) {
    return detail::packs_table(detail::figures_of(packs), detail::iso_form<C>(), units);
}

namespace detail {

/// "12.6 oz; ordered 12.0 oz, 11.5 oz to 12.5 oz allowed": a value outside its limits with as many decimals as it takes to
/// see that.
template <class Quantity, class Division>
[[nodiscard]] TRANCHE_COLD std::string finding_text(const found_and_allowed<Quantity>& f, tolerance_verdict verdict,
                                                    Division how) {
    if (f.found && f.allowed && verdict == tolerance_verdict::outside)
        how = telling_apart(*f.found, *f.found < f.allowed->min ? f.allowed->min : f.allowed->max, how);
    const auto written = [&](Quantity q) { return to_text(q, how); };
    std::string text = f.found ? written(*f.found) + "; " : "not measured; ";
    if (f.ordered) text += "ordered " + written(*f.ordered) + ", ";
    if (!f.allowed) return text + "none was ordered";
    return text + (f.allowed->min > Quantity{} ? written(f.allowed->min) + " to " : "at most ") +
           written(f.allowed->max) + " allowed";
}

} // namespace detail

/// What one document allows, and what a pack has. Weights, lengths and prices are written in `units`; throws as
/// `to_text` for one that cannot be written.
[[nodiscard]] TRANCHE_COLD inline report_table tolerances_table(const pack_tolerances& limits,
                                                                const std::vector<tolerance_finding>& findings,
                                                                const kitchen_units& units) {
    report_table table;
    table.caption = std::string(limits.source) + ": " + std::string(name_of(detail::verdict_of(findings)));
    table.columns = {{"Limit"}, {"Found and allowed"}, {"Verdict"}};
    const auto text_of = [&](const tolerance_finding& f) {
        if (const auto* weight = std::get_if<found_and_allowed<mass>>(&f.values))
            return detail::finding_text(*weight, f.verdict, units.portion);
        return detail::finding_text(std::get<found_and_allowed<length>>(f.values), f.verdict, units.thickness);
    };
    for (const tolerance_finding& f : findings)
        table.rows.push_back({.cells = {f.what, text_of(f), std::string(name_of(f.verdict))}});
    return table;
}

namespace detail {

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string packs_csv(const std::vector<pack_figures>& packs, const iso_currency& in) {
    const std::vector<std::string> head{"place",
                                        "pack",
                                        "pieces",
                                        "weight_g",
                                        "eye_g",
                                        "gluteus_medius_g",
                                        "fat_cover_g",
                                        "tail_g",
                                        "connective_tissue_g",
                                        "wanted_g",
                                        "excess_fat_g",
                                        "excess_tail_g",
                                        "paid",
                                        "paid_for_excess_fat",
                                        "paid_for_excess_tail",
                                        "price_per_kg",
                                        "wanted_per_kg",
                                        "wanted_credited_per_kg",
                                        "weight_over_size",
                                        "currency"};
    const auto price = [&](const std::optional<double>& p) { return p ? csv_per_kilogram(*p, in) : std::string(); };
    std::string text = csv_record(head);
    for (std::size_t i = 0; i < packs.size(); ++i) {
        const pack_figures& p = packs[i];
        std::vector<std::string> row{std::to_string(i + 1), csv_text(*p.name), std::to_string(p.pieces),
                                     csv_grams(to_micrograms(p.weight))};
        for (const tissue t : all_tissues) row.push_back(csv_grams(p.contents->masses[t]));
        for (const micrograms m : {p.wanted, p.excess_fat, p.excess_tail}) row.push_back(csv_grams(m));
        for (const std::int64_t a : {p.paid, p.paid_for_excess_fat, p.paid_for_excess_tail})
            row.push_back(money_number(a, in));
        for (const std::optional<double>& value : {std::optional(p.price), p.per_wanted, p.per_wanted_credited})
            row.push_back(price(value));
        row.push_back(shown(p.contents->weight_over_size, 6));
        row.push_back(in.code);
        text += csv_record(row);
    }
    return text;
}

} // namespace detail

/// One record a pack in the order given, heads first: its masses by tissue, exact to the microgram, which add up to the
/// pack; prices per kilogram. Throws `invalid_input` for a price that is not finite. O(packs). Masses are grams.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string packs_csv(const std::vector<pack_appraisal<C>>& packs) {
    return detail::packs_csv(detail::figures_of(packs), detail::iso_form<C>());
}

} // namespace tranche
