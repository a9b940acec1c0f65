// A plan, its bill and a cutting test as comma-separated values, exact to the microgram and the minor unit, for a spreadsheet.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/tables/bill_tables.hpp>
#include <tranche/text/write_csv.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

namespace detail {

/// "340.194277": grams to the microgram, exact.
[[nodiscard]] TRANCHE_COLD inline std::string csv_grams(micrograms m) {
    return detail::signed_text(m.count, 1'000'000);
}

/// Millimetres to the nanometre.
[[nodiscard]] TRANCHE_COLD inline std::string csv_millimetres(length l) { return detail::shown(l / millimetre, 6); }

/// What was lost from a slab in one part a piece, as `cutting_plan::portions_of` has the weights.
template <class = when_called>
[[nodiscard]] std::vector<std::int64_t> equal_parts(micrograms lost, std::size_t pieces) {
    return split_by_largest_remainder(lost.count, std::vector<std::int64_t>(pieces, 1));
}

/// A price with `digits` decimals and never an exponent, however large.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string csv_price(double value, int digits) {
    if (!std::isfinite(value)) throw invalid_input("price", detail::shown(value), "a finite value");
    std::array<char, 400> text{}; // the largest double has 309 digits before the point
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, digits);
    std::string decimal(text.data(), end);
    const bool zero = decimal.find_first_of("123456789") == std::string::npos;
    return zero && decimal.front() == '-' ? decimal.substr(1) : decimal;
}

/// A price of a kilogram, with four digits beyond the minor unit.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string csv_per_kilogram(double price, const iso_currency& in) {
    return csv_price(price, in.minor_digits + 4);
}

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string slabs_csv(const cutting_plan& cuts,
                                                 const std::vector<std::vector<std::string>>& costs,
                                                 const std::string& currency) {
    std::vector<std::string> head{"slab", "kind", "cut", "portion", "start_mm", "thickness_mm", "weight_g"};
    for (const tissue t : all_tissues) {
        std::string name = "trim_" + std::string(name_of(t)) + "_g";
        for (char& c : name) c = c == ' ' ? '_' : c;
        head.push_back(name);
    }
    for (const char* name : {"cutting_loss_g", "gluteus_medius_share", "cost", "currency"}) head.emplace_back(name);
    std::string text = csv_record(head);
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const slab& s = cuts.slabs[i];
        const bool portions = s.kind == slab_kind::portions;
        const std::size_t pieces = portions ? static_cast<std::size_t>(cuts.spec_of(s).pieces) : 1;
        const std::vector<micrograms> weights = portions ? cuts.portions_of(s) : std::vector<micrograms>{s.weight()};
        const std::vector<std::int64_t> losses = equal_parts(s.cutting_loss, pieces);
        by_tissue<std::vector<std::int64_t>> trims;
        for (const tissue t : all_tissues) trims[t] = equal_parts(s.trim[t], pieces);
        for (std::size_t k = 0; k < pieces; ++k) {
            std::vector<std::string> row{std::to_string(i + 1),
                                         std::string(name_of(s.kind)),
                                         csv_text(portions ? cuts.spec_of(s).name : name_of(cuts.destination_of(s))),
                                         portions ? std::to_string(k + 1) : "",
                                         csv_millimetres(s.start),
                                         csv_millimetres(s.thickness),
                                         csv_grams(weights[k])};
            for (const tissue t : all_tissues) row.push_back(csv_grams({trims[t][k]}));
            row.push_back(csv_grams({losses[k]}));
            row.push_back(detail::shown(s.gluteus_medius_share(), 6));
            row.push_back(i < costs.size() && k < costs[i].size() ? costs[i][k] : "");
            row.push_back(row.back().empty() ? "" : currency);
            text += csv_record(row);
        }
    }
    return text;
}

} // namespace detail

/// One record a portion, and one for each slab that is not portions; heads in the first record. `cut` is the name of the
/// spec or the destination. Trim and cutting loss of a slab are shared out equally among its portions. All masses of the
/// file add up to the loin on the board, and the costs to the bill's primary value, both exactly.
/// O(slabs + portions log portions). Masses are grams, lengths millimetres, as the heads say. Throws as `to_text` for a
/// number that cannot be written.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string slabs_csv(const cutting_plan& cuts, const bill<C>& settled) {
    std::vector<std::vector<std::string>> costs(cuts.slabs.size());
    for (const costed_portion<C>& p : settled.portions) costs.at(p.slab).push_back(detail::number_of(p.cost));
    return detail::slabs_csv(cuts, costs, std::string(C::code));
}

/// The same without costs: their columns are empty. Masses are grams, lengths millimetres. Throws as `to_text` for a
/// number that cannot be written. O(slabs).
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string slabs_csv(const cutting_plan& cuts) {
    return detail::slabs_csv(cuts, {}, "");
}

namespace detail {

/// A line of a cutting test, and what it cost where that is known.
template <class = when_called>
TRANCHE_COLD void add_account_line(std::string& text, part_role role, const line_figures& line,
                                   const std::optional<std::int64_t>& cost, const iso_currency& in) {
    text +=
        csv_record({role == part_role::usable ? "usable"
                    : line.credited           ? "by-product"
                                              : "loss",
                    csv_text(*line.name), csv_text(line.goes_to), csv_grams(line.weight), shown(line.share, 6),
                    line.credited ? csv_per_kilogram(line.value, in) : "",
                    line.credited ? money_number(line.credit, in) : "", cost ? money_number(*cost, in) : "", in.code});
}

/// `costs` are those of the usable lines, in their order; where they end there are none.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string account_csv(const yield_test<C>& test, const std::vector<amount<C>>& costs) {
    const iso_currency in = iso_form<C>();
    std::string text =
        csv_record({"role", "part", "goes_to", "weight_g", "share", "value_per_kg", "credit", "cost", "currency"});
    auto next = costs.cbegin();
    for (const yield_line<C>& line : test.lines) {
        std::optional<std::int64_t> cost;
        if (line.part.role == part_role::usable && next != costs.cend()) cost = (next++)->minor;
        add_account_line(text, line.part.role, figures_of(line), cost, in);
    }
    return text + csv_record({"whole", "bought", "", csv_grams(test.whole), "1",
                              csv_per_kilogram(test.purchase.price.value(), in), money_number(test.credit.minor, in),
                              money_number(test.paid.minor, in), in.code});
}

} // namespace detail

/// The lines of a cutting test, one record each, then the whole. `goes_to` is where a part ends up, in its own words or
/// by its role. `credit` stands with by-products, `cost` with usable parts, which share the primary value by weight, by
/// largest remainder; the whole has the sum of the credits, and what was paid as its cost. Weights add up to the whole
/// exactly; so do credits, and credits with costs to what was paid if anything is usable. Throws `invalid_input` for a
/// price that is not finite. O(lines log lines). Weights are grams, prices per kilogram; shares have no unit.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string account_csv(const yield_test<C>& test) {
    std::vector<std::int64_t> weights; // of the usable lines
    for (const yield_line<C>& line : test.lines)
        if (line.part.role == part_role::usable) weights.push_back(line.weight.count);
    if (test.usable.count == 0) return detail::account_csv<C>(test, {});
    return detail::account_csv<C>(test, split(test.primary_value, std::span<const std::int64_t>(weights)));
}

/// The same of a bill, where a usable part costs what its portions cost together. O(lines + portions log specs). Throws
/// as `to_text` for a number that cannot be written. Units as of a test.
template <currency C>
[[nodiscard]] TRANCHE_COLD std::string account_csv(const bill<C>& settled) {
    std::map<std::size_t, amount<C>> of_spec; // of each spec that has portions, as the usable lines of the test stand
    for (const costed_portion<C>& p : settled.portions)
        if (p.weight.count > 0) of_spec[p.spec] += p.cost;
    std::vector<amount<C>> costs;
    for (const auto& [spec, cost] : of_spec) costs.push_back(cost);
    return detail::account_csv(settled.test, costs);
}

} // namespace tranche
