// Labels and lots as tables, report sections and comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/packs/lot_compliance.hpp>
#include <tranche/packs/pack_label.hpp>
#include <tranche/packs/scale_tolerance.hpp>
#include <tranche/report/formats/csv.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/detail/telling_apart.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/report/report_section.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// A `pack_label`, whatever the currency.
struct label_figures {
    const std::string* product = nullptr;
    net_weight net{};
    mass tare{};
    std::int64_t each = 0;
    price_basis basis{};
    std::int64_t total = 0;
};
template <currency C>
[[nodiscard]] std::vector<label_figures> figures_of(const std::vector<pack_label<C>>& labels) {
    std::vector<label_figures> figures;
    figures.reserve(labels.size());
    for (const pack_label<C>& l : labels)
        figures.push_back({&l.product, l.net, l.tare, l.price.each.minor, l.price.basis, l.total.minor});
    return figures;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD report_table labels_table(const std::vector<label_figures>& labels, std::int64_t sum,
                                                     const iso_currency& in) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {
        {"Product"}, {"Net weight", right}, {"Tare", right}, {"Unit price", right}, {"Total, " + in.code, right}};
    for (const label_figures& label : labels)
        table.rows.push_back(
            {.cells = {*label.product, label.net.text(), text_in_full(label.tare, label.net.division),
                       money_text(label.each, in) + '/' + basis_name(label.basis), money_number(label.total, in)}});
    table.rows.push_back({.cells = {std::to_string(labels.size()) + (labels.size() == 1 ? " pack" : " packs"), "", "",
                                    "", money_number(sum, in)},
                          .total = true});
    return table;
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string labels_csv(const std::vector<label_figures>& labels, const iso_currency& in) {
    std::string text =
        csv_record({"product", "net_weight", "net_unit", "tare_g", "unit_price", "per", "total_price", "currency"});
    for (const label_figures& label : labels) {
        // A spreadsheet reads decimals, not common fractions.
        mass_division written = as_written(label.net.division);
        if (!is_power_of_ten(written.parts)) written.parts = 1'000'000;
        text += csv_record({csv_text(*label.product), number_of(label.net.weight(), written), unit_name(written),
                            csv_grams(to_micrograms(label.tare)), money_number(label.each, in), basis_name(label.basis),
                            money_number(label.total, in), in.code});
    }
    return text;
}

} // namespace detail

/// One row a label, and the sum of the totals. Net weights and prices are shown as the labels have them, the tare in the
/// unit of the scale. Throws as `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_table labels_table(const std::vector<pack_label<C>>& labels) {
    amount<C> sum;
    for (const pack_label<C>& label : labels) sum += label.total;
    return detail::labels_table(detail::figures_of(labels), sum.minor, detail::iso_form<C>());
}

/// The section of labels with the order of rounding and the cautions that goods sold by weight need. `rules` are those that
/// the labels were made by. Throws as `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD report_section labels_section(const std::vector<pack_label<C>>& labels,
                                                         const label_rules& rules) {
    return {
        .title = "Labels",
        .tables = {labels_table(labels)},
        .paragraphs = {order_of_rounding<C>(rules),
                       "Goods sold by weight need a legal-for-trade scale: a label is made from what it shows. What a "
                       "label must say, and how, follows local law and licensed practice."}};
}

/// One record a label; heads in the first record. Weights are in the unit of the scale, prices per `per`. Throws as
/// `to_text` for a number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string labels_csv(const std::vector<pack_label<C>>& labels) {
    return detail::labels_csv(detail::figures_of(labels), detail::iso_form<C>());
}

namespace detail {

/// A rule of a lot, what was found, and whether it holds.
struct lot_rule {
    std::string rule, found;
    bool holds = false;
};

[[nodiscard]] TRANCHE_COLD inline report_table lot_rules_table(const std::vector<lot_rule>& rules, bool passes) {
    report_table table;
    table.columns = {{"Rule"}, {"Found"}, {"Holds"}};
    for (const lot_rule& r : rules) table.rows.push_back({.cells = {r.rule, r.found, r.holds ? "yes" : "no"}});
    table.rows.push_back({.cells = {"the lot", "", passes ? "passes" : "fails"}, .total = true});
    return table;
}

/// "1 of 30"
[[nodiscard]] TRANCHE_COLD inline std::string of_packs(std::size_t count, std::size_t packs) {
    return std::to_string(count) + " of " + std::to_string(packs);
}

} // namespace detail

namespace detail {

/// Portions by the pound and ounce are written in ounces where a limit may take decimals.
[[nodiscard]] constexpr mass_division one_unit(mass_division how) {
    return how.in == mass_division::unit::pounds_and_ounces ? mass_division{mass_division::unit::ounces, how.parts}
                                                            : how;
}

} // namespace detail

/// A lot of one nominal quantity against each rule, in the unit of a portion. A mean that is too low is written with as many
/// decimals as it takes to see that. Weights, lengths and prices are written in `units`; throws as `to_text` for one
/// that cannot be written.
[[nodiscard]] TRANCHE_COLD inline report_table lot_table(const nominal_lot& lot, const kitchen_units& units) {
    const mass_division how = detail::one_unit(units.portion);
    const auto limit = [&](mass m) { return detail::text_in_full(m, how); };
    const mass_division mean = lot.mean_holds ? how : detail::telling_apart(lot.mean, lot.nominal, how);
    return detail::lot_rules_table({{"mean at least " + limit(lot.nominal), to_text(lot.mean, mean), lot.mean_holds},
                                    {"at most 2.5 % below " + limit(lot.nominal - lot.tolerable_error),
                                     detail::of_packs(lot.below_once, lot.packs), lot.few_below},
                                    {"none below " + limit(lot.nominal - 2.0 * lot.tolerable_error),
                                     detail::of_packs(lot.below_twice, lot.packs), lot.none_far_below}},
                                   lot.passes());
}

/// A lot of packs of different weights against each rule. The mean error (found - labelled) is shown in thousandths of the
/// unit of a portion, or in finer ones where it takes them to see that it is below zero. Weights, lengths and prices
/// are written in `units`; throws as `to_text` for one that cannot be written.
[[nodiscard]] TRANCHE_COLD inline report_table lot_table(const random_weight_lot& lot, const kitchen_units& units) {
    mass_division how{detail::one_unit(units.portion).in, 1000};
    if (!lot.mean_holds) how = detail::telling_apart(lot.mean_error, mass{}, how);
    return detail::lot_rules_table(
        {{"on average no less than labelled", to_text(lot.mean_error, how) + " off", lot.mean_holds},
         {"at most " + std::to_string(lot.allowed_over) + " short by more than the allowed variation",
          detail::of_packs(lot.over_limit, lot.packs), lot.over_limit <= lot.allowed_over}},
        lot.passes());
}

/// A test weight and what the scale showed with it on.
struct scale_reading {
    mass load{}, indicated{};

    friend bool operator==(const scale_reading&, const scale_reading&) = default;
};

/// A scale of class III, whose division is `division`, against its maintenance tolerance at each test weight. Errors
/// are written in its divisions' unit, to the division or as much finer as it takes to see that one is beyond the
/// tolerance. Throws as `scale_compliance`, and for no readings. O(readings). Masses are above zero. The tolerances are
/// those of `class_iii_divisions`, with their source.
[[nodiscard]] TRANCHE_COLD inline report_table scale_table(const std::vector<scale_reading>& readings,
                                                           mass_division division) {
    if (readings.empty()) throw invalid_input("readings", "none", "at least one test weight");
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Test weight", right}, {"Shown", right}, {"Error", right}, {"Tolerance", right}, {"Within"}};
    bool all_within = true;
    for (const scale_reading& r : readings) {
        const tested_scale tested = scale_compliance(r.load, r.indicated, division);
        all_within = all_within && tested.within;
        mass_division how = as_written(division);
        if (!tested.within) how = detail::telling_apart(std::max(tested.error, -tested.error), tested.tolerance, how);
        table.rows.push_back({.cells = {to_text(r.load, how), to_text(r.indicated, how), to_text(tested.error, how),
                                        to_text(tested.tolerance, how), tested.within ? "yes" : "no"}});
    }
    table.rows.push_back({.cells = {"the scale", "", "", "", all_within ? "holds" : "fails"}, .total = true});
    return table;
}

} // namespace tranche
