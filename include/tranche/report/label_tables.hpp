// Labels and lots as tables, report sections and comma-separated values.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cost/lot_check.hpp>
#include <tranche/cost/pack_label.hpp>
#include <tranche/report/csv.hpp>
#include <tranche/report/kitchen_units.hpp>
#include <tranche/report/plan_tables.hpp>
#include <tranche/report/report_sections.hpp>
#include <tranche/report/report_table.hpp>

namespace tranche {

/// One row a label, and the sum of the totals. Net weights and prices are shown as the labels have them.
template <currency C>
[[nodiscard]] report_table labels_table(const std::vector<pack_label<C>>& labels) {
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"Product"},
                     {"Net weight", right},
                     {"Tare", right},
                     {"Unit price", right},
                     {"Total, " + std::string(C::code), right}};
    amount<C> sum;
    for (const pack_label<C>& label : labels) {
        table.rows.push_back({.cells = {label.product, label.net.text(), shown(label.tare), label.price.text(),
                                        number_of(label.total)}});
        sum += label.total;
    }
    table.rows.push_back({.cells = {std::to_string(labels.size()) + (labels.size() == 1 ? " pack" : " packs"), "", "",
                                    "", number_of(sum)},
                          .total = true});
    return table;
}

/// The section of labels with the order of rounding and the cautions that goods sold by weight need. `rules` are those that
/// the labels were made by.
template <currency C>
[[nodiscard]] report_section labels_section(const std::vector<pack_label<C>>& labels, const label_rules& rules) {
    return {
        .title = "Labels",
        .tables = {labels_table(labels)},
        .paragraphs = {order_of_rounding<C>(rules),
                       "Goods sold by weight need a legal-for-trade scale: a label is made from what it shows. What a "
                       "label must say, and how, follows local law and licensed practice."}};
}

/// One record a label; heads in the first record. Weights are in the unit of the scale, prices per `per`.
template <currency C>
[[nodiscard]] std::string labels_csv(const std::vector<pack_label<C>>& labels) {
    std::string text = detail::csv_record(
        {"product", "net_weight", "net_unit", "tare_g", "unit_price", "per", "total_price", "currency"});
    for (const pack_label<C>& label : labels) {
        // A spreadsheet reads decimals, not common fractions.
        mass_division written = as_written(label.net.division);
        if (!detail::is_power_of_ten(written.parts)) written.parts = 1'000'000;
        text +=
            detail::csv_record({csv_text(label.product), number_of(label.net.weight(), written), unit_name(written),
                                csv_grams(to_micrograms(label.tare)), number_of(label.price.each),
                                detail::basis_name(label.price.basis), number_of(label.total), std::string(C::code)});
    }
    return text;
}

/// A lot of one nominal quantity against each rule.
[[nodiscard]] inline report_table lot_table(const nominal_lot& lot) {
    report_table table;
    table.columns = {{"Rule"}, {"Found"}, {"Holds"}};
    const std::string of_packs = " of " + std::to_string(lot.packs);
    const auto add = [&](const std::string& rule, const std::string& found, bool holds) {
        table.rows.push_back({.cells = {rule, found, holds ? "yes" : "no"}});
    };
    add("mean at least " + shown(lot.nominal), shown(lot.mean), lot.mean_holds);
    add("at most 2.5 % below " + shown(lot.nominal - lot.tolerable_error), std::to_string(lot.below_once) + of_packs,
        lot.few_below);
    add("none below " + shown(lot.nominal - 2.0 * lot.tolerable_error), std::to_string(lot.below_twice) + of_packs,
        lot.none_far_below);
    table.rows.push_back({.cells = {"the lot", "", lot.passes() ? "passes" : "fails"}, .total = true});
    return table;
}

} // namespace tranche
