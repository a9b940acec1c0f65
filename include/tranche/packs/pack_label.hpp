// What a label of a pack sold by weight says: net weight, unit price and total price, and in which order they were rounded.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/packs/net_weight.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/wide_integer.hpp>

namespace tranche {

/// A price as it is printed: whole minor units for one pound, ounce, kilogram or 100 g.
template <currency C>
struct label_price {
    amount<C> each{}; ///< zero or more
    price_basis basis = price_basis::per_kilogram;

    /// "12.99 USD/lb". To the minor unit. Throws nothing but for lack of memory.
    [[nodiscard]] std::string text() const { return to_text(each) + '/' + detail::basis_name(basis); }

    friend bool operator==(const label_price&, const label_price&) = default;
};

/// A rate, rounded to the minor unit by the basis; the same meat may be priced by another basis to compare it. Throws
/// `invalid_input` for a price that is not finite, below zero or too large to count. Money by mass, zero or more.
template <currency C>
[[nodiscard]] label_price<C> label_price_of(unit_price<C> price, price_basis basis,
                                            rounding how = rounding::half_even) {
    detail::require_not_negative(money<C>(price * detail::basis_mass(basis)).value(), "unit price");
    return {rounded<C>(price * detail::basis_mass(basis), how, "unit price"), basis};
}

/// How money on labels is rounded, and weights.
struct label_rules {
    weighing_rules weighing{};
    price_basis basis = price_basis::per_kilogram;
    rounding money = rounding::half_up; ///< of unit prices and total prices: the commercial rule

    friend bool operator==(const label_rules&, const label_rules&) = default;
};

/// One pack. The rounded figures are what counts: total = net weight × unit price, of both as printed, rounded last.
template <currency C>
struct pack_label {
    std::string product{};
    net_weight net{};
    mass tare{}; ///< as given, before any rounding
    label_price<C> price{};
    amount<C> total{};

    friend bool operator==(const pack_label&, const pack_label&) = default;
};

namespace detail {

[[nodiscard]] constexpr std::int64_t basis_in_eighths(price_basis basis) {
    switch (basis) {
    case price_basis::per_kilogram: return 8'000'000'000;
    case price_basis::per_pound: return 3'628'738'960;
    case price_basis::per_ounce: return 226'796'185;
    case price_basis::per_100_grams: break;
    }
    return 800'000'000;
}

} // namespace detail

/// Net weight × unit price in whole numbers, rounded once to the minor unit, zero or more: halves are halves, and 0.365
/// kg at 32.90 is 12.0085 and nothing near it. Throws `invalid_input` for a negative weight or price and a total that
/// cannot be counted. Source: `label_of`.
template <currency C>
[[nodiscard]] amount<C> total_price(const net_weight& net, const label_price<C>& price, rounding how) {
    if (net.divisions < 0) throw invalid_input("net weight", std::to_string(net.divisions), "no negative weight");
    if (price.each < amount<C>{}) throw invalid_input("unit price", to_text(price.each), "zero or more");
    detail::wide_integer exact = detail::wide_integer{net.divisions} * detail::unit_in_eighths(net.division);
    const detail::wide_integer by = detail::wide_integer{detail::basis_in_eighths(price.basis)} * net.division.parts;
    if (detail::product_overflows(exact, detail::wide_integer{price.each.minor}, exact) ||
        exact / by > detail::wide_integer{9'200'000'000'000'000'000})
        throw invalid_input("total price", std::to_string(net.divisions) + " divisions at " + price.text(),
                            "a sum of money that can be counted");
    const auto whole = static_cast<std::int64_t>(exact / by);
    const detail::wide_integer rest = exact % by, other = by - rest;
    const bool up = rest != other ? rest > other : how == rounding::half_up || whole % 2 != 0;
    return {up ? whole + 1 : whole};
}

/// The label of one pack. The order of rounding: the unit price to the minor unit by its basis; the net weight to the
/// division of the scale; last the total, from these two. `gross` is what the scale carries, packing and all. Throws as
/// `net_weight_of`, `label_price_of` and `total_price`. `tare` is zero or more. That order is common practice, no
/// source.
template <currency C>
[[nodiscard]] pack_label<C> label_of(std::string product, mass gross, mass tare, unit_price<C> price,
                                     const label_rules& rules) {
    pack_label<C> label{std::move(product),
                        net_weight_of(gross, tare, rules.weighing),
                        tare,
                        label_price_of<C>(price, rules.basis, rules.money),
                        {}};
    label.total = total_price(label.net, label.price, rules.money);
    return label;
}

/// One label for each portion of a plan, in cutting order, each in a packing of weight `tare`, priced by weight from
/// the list. They are what the plan foresees: goods are labelled from the scale, with `label_of`. Throws
/// `invalid_input` for a portion without a price, or with one by the piece, which a label by weight cannot show.
/// O(portions). Weights are whole divisions, money minor units. Throws also as `label_of`. `tare` is zero or more.
template <currency C>
[[nodiscard]] std::vector<pack_label<C>> labels_of(const cutting_plan& cuts, const price_list<C>& prices, mass tare,
                                                   const label_rules& rules) {
    validate(prices);
    detail::require_not_negative(tare, "tare");
    std::vector<pack_label<C>> labels;
    for (const slab& s : cuts.slabs) {
        if (s.kind != slab_kind::portions) continue;
        const std::string& name = cuts.spec_of(s).name;
        const portion_price<C>& price = prices.of(name);
        if (price.each != money<C>{})
            throw invalid_input("price of " + name + " by the piece", detail::shown(price.each.value()),
                                "none, where it is sold by weight");
        for (const micrograms weight : cuts.portions_of(s))
            labels.push_back(label_of<C>(name, to_mass(weight) + tare, tare, price.by_weight, rules));
    }
    return labels;
}

/// A name and a value of a label, as text. How they are laid out is up to whoever prints them.
struct label_field {
    std::string_view name;
    std::string value;

    friend bool operator==(const label_field&, const label_field&) = default;
};

/// Product, net weight, tare (in the unit of the scale), unit price and total price. As text: weights in whole
/// divisions, money to the minor unit. Takes a label of `label_of` at its word; throws as `to_text`. O(1).
template <currency C>
[[nodiscard]] std::vector<label_field> fields_of(const pack_label<C>& label) {
    return {{"product", label.product},
            {"net weight", label.net.text()},
            {"tare", detail::text_in_full(label.tare, label.net.division)},
            {"unit price", label.price.text()},
            {"total price", to_text(label.total)}};
}

/// What was rounded, to what, by which rule and in which order, in one sentence for a report. Any rules; throws as
/// `to_text` for a division that no scale has.
template <currency C>
[[nodiscard]] std::string order_of_rounding(const label_rules& rules) {
    const std::string cent = to_text(amount<C>{1});
    const std::string halves = rules.money == rounding::half_up ? "halves up" : "halves to the even neighbour";
    return "First the unit price is rounded to " + cent + "/" + detail::basis_name(rules.basis) + " (" + halves +
           "), and the net weight, after the tare is taken off" +
           (rules.weighing.tare == tare_rounding::up_to_division ? " rounded up to a whole division" : " as given") +
           ", " +
           (rules.weighing.net == weight_rounding::down ? "down to a whole division" : "to the nearest division") +
           " of the scale, " + net_weight{1, rules.weighing.division}.text() +
           "; then the total price, their product, to " + cent + " (" + halves + ").";
}

} // namespace tranche
