// What portions and by-products are worth: for the optimiser before cutting and for the bill afterwards.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cmath>
#include <map>
#include <optional>
#include <string>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The value of one portion: by its weight, by the piece, or both.
template <currency C>
struct portion_price {
    unit_price<C> by_weight{};
    money<C> each{};

    friend bool operator==(const portion_price&, const portion_price&) = default;
};

/// What the work costs, beyond what a plan has to do anyway. Loose meat costs nothing.
template <currency C>
struct cutting_labour {
    money<C> slab{};    ///< of each slab of portions: to cut it
    money<C> portion{}; ///< of each portion: to weigh, pack and label it
    money<C> trimmed{}; ///< of each portion, in addition, if its cut takes something off the slab

    /// Of one slab of a cut. In the currency: slab + pieces × (portion + trimmed, where the cut is trimmed). `pieces`
    /// are 1 to 100. Throws nothing.
    [[nodiscard]] money<C> of(const cut_spec& cut) const {
        const money<C> each = cut.trim == trim_spec{} ? portion : portion + trimmed;
        return slab + detail::unfused(static_cast<double>(cut.pieces) * each);
    }

    friend bool operator==(const cutting_labour&, const cutting_labour&) = default;
};

/// Values of the portions, by the name of their cut, and of the by-products. Of a by-product without a value none is known: it
/// counts as nothing, and a bill says so; zero is a value. A negative value is a cost of disposal. Labour counts when a plan is
/// chosen and stands on no bill.
template <currency C>
struct price_list {
    std::map<std::string, portion_price<C>> portions{};
    by_destination<std::optional<unit_price<C>>> by_products{};
    cutting_labour<C> labour{};

    /// Throws `invalid_input` naming the cut if there is no price for it. A price by mass, by the piece, or both; any
    /// finite ones.
    [[nodiscard]] const portion_price<C>& of(const std::string& cut) const {
        const auto found = portions.find(cut);
        if (found == portions.end())
            throw invalid_input("price of " + cut, "none", "a price by weight or by the piece");
        return found->second;
    }

    /// What goes there is worth that: nothing, where no value is given. A price by mass, below zero for a cost of
    /// disposal. Throws nothing.
    [[nodiscard]] unit_price<C> of(destination d) const { return by_products[d] ? *by_products[d] : unit_price<C>{}; }

    friend bool operator==(const price_list&, const price_list&) = default;
};

/// Throws `invalid_input` for a value that is not finite. Values are prices by mass or by the piece; labour is any
/// finite amount. Names and signs are not looked at.
template <currency C>
void validate(const price_list<C>& prices) {
    const auto check = [](double value, const std::string& field) {
        if (!std::isfinite(value)) throw invalid_input(field, detail::shown(value), "a finite value");
    };
    for (const auto& [cut, price] : prices.portions) {
        check(price.by_weight.value(), "price of " + cut + " by weight");
        check(price.each.value(), "price of " + cut + " by the piece");
    }
    for (const destination d : all_destinations) check(prices.of(d).value(), "value of " + std::string(name_of(d)));
    check(prices.labour.slab.value(), "labour a slab");
    check(prices.labour.portion.value(), "labour a portion");
    check(prices.labour.trimmed.value(), "labour a trimmed portion");
}

} // namespace tranche
