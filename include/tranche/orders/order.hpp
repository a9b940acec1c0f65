// An order over many loins: what there is, what is wanted, and what everything else is worth.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/orders/order_line.hpp>
#include <tranche/orders/order_loin.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// A piece that is put back whole, for another day: what is left up to the sirloin face of a loin, if it is large enough. It is a
/// cut of the plans like others, the one behind those of the lines, untrimmed and without a demand.
template <currency C>
struct kept_remnant {
    length least_thickness{};          ///< above zero
    mass least_weight{};               ///< zero or more
    unit_price<C> value{};             ///< what it is worth tomorrow
    std::string name = "kept remnant"; ///< unlike the names of the lines

    friend bool operator==(const kept_remnant&, const kept_remnant&) = default;
};

/// Loins and lines of one order, in one currency: those of two do not compile together.
template <currency C>
struct order {
    std::vector<order_loin<C>> loins{};
    std::vector<order_line<C>> lines{};
    cutting_rules rules{};                                      ///< of loins without rules of their own
    by_destination<std::optional<unit_price<C>>> by_products{}; ///< as in a `price_list`
    cutting_labour<C> labour{};                                 ///< as in a `price_list`
    std::optional<kept_remnant<C>> remnant{};                   ///< worth keeping
};

/// The cuts of the order, in the order of its lines; behind them the remnant worth keeping, if there is one: what the options of its plans
/// are indices of. Throws nothing but for lack of memory.
template <currency C>
[[nodiscard]] cut_list cuts_of(const order<C>& wanted) {
    cut_list cuts;
    for (const order_line<C>& line : wanted.lines) cuts.push_back(line.cut);
    if (wanted.remnant)
        cuts.push_back({.name = wanted.remnant->name,
                        .thickness = {wanted.remnant->least_thickness, unlimited<length>()},
                        .portion = {wanted.remnant->least_weight, unlimited<mass>()},
                        .gluteus_medius = any_gluteus_medius});
    return cuts;
}

/// The cuts and rules that hold for one of its loins: with zones and rules of its own.
/// Throws `invalid_input` for an index that no loin has.
template <currency C>
[[nodiscard]] std::pair<cut_list, cutting_rules> request_of(const order<C>& wanted, std::size_t loin) {
    if (loin >= wanted.loins.size())
        throw invalid_input("loin", std::to_string(loin), "an index below " + std::to_string(wanted.loins.size()));
    const order_loin<C>& of = wanted.loins[loin];
    cut_list cuts = cuts_of(wanted);
    for (cut_spec& cut : cuts) {
        if (const auto zone = of.zones.find(cut.name); zone != of.zones.end()) cut.zone = zone->second;
        for (const std::string& name : of.without)
            if (name == cut.name) cut.zone = {length{}, length{}}; // no slab is so thin
    }
    return {std::move(cuts), of.rules ? *of.rules : wanted.rules};
}

/// What portions and by-products are worth, as the plan of a single loin would have it: prices by weight and
/// by-products. What is paid by the piece depends on how many there are of all loins, and is not in it. Money by mass.
/// Throws nothing but for lack of memory.
template <currency C>
[[nodiscard]] price_list<C> prices_of(const order<C>& wanted) {
    price_list<C> prices{.portions = {}, .by_products = wanted.by_products, .labour = wanted.labour};
    for (const order_line<C>& line : wanted.lines) prices.portions[line.cut.name] = {.by_weight = line.price.by_weight};
    if (wanted.remnant) prices.portions[wanted.remnant->name] = {.by_weight = wanted.remnant->value};
    return prices;
}

/// Throws `invalid_input` for an order without lines or loins, for a name that stands twice, a count that is not 1 to
/// 1,000,000, a worth that is not finite, a zone or exclusion of a cut that no line has, and for what `validate` of
/// lines, prices and rules refuses. Loins are not tabulated for it. Values are below 4e9 in the currency, counts plain
/// numbers of loins.
template <currency C>
void validate(const order<C>& wanted) {
    if (wanted.loins.empty()) throw invalid_input("loins", "none", "at least one loin");
    if (wanted.lines.empty()) throw invalid_input("lines", "none", "at least one line");
    for (const order_line<C>& line : wanted.lines) validate(line);
    if (wanted.remnant) {
        detail::require_positive(wanted.remnant->least_thickness, "remnant.least_thickness");
        detail::require_not_negative(wanted.remnant->least_weight, "remnant.least_weight");
    }
    const cut_list cuts = cuts_of(wanted);
    validate(static_cast<const std::vector<cut_spec>&>(cuts));
    validate(prices_of(wanted));
    std::set<std::string> cut_names, names;
    for (const cut_spec& cut : cuts) cut_names.insert(cut.name);
    for (std::size_t i = 0; i < wanted.loins.size(); ++i) {
        const order_loin<C>& loin = wanted.loins[i];
        const std::string where = "loins[" + std::to_string(i) + "]";
        if (loin.name.empty()) throw invalid_input(where + ".name", "\"\"", "a name for the loin");
        if (!names.insert(loin.name).second)
            throw invalid_input(where + ".name", '"' + loin.name + "\" twice", "a name of its own for each loin");
        if (!loin.meat) throw invalid_input(loin.name + ": meat", "none", "a profile, or a model to tabulate");
        if (loin.count < 1 || loin.count > 1'000'000)
            throw invalid_input(loin.name + ": count", std::to_string(loin.count), "1 to 1000000");
        if (!(std::abs(loin.worth.value()) < 4e9))
            throw invalid_input(loin.name + ": worth", detail::shown(loin.worth.value()), "a finite value below 4e9");
        for (const auto& [name, zone] : loin.zones)
            if (!cut_names.contains(name))
                throw invalid_input(loin.name + ": zones", '"' + name + '"', "the name of a cut of the order");
        for (const std::string& name : loin.without)
            if (!cut_names.contains(name))
                throw invalid_input(loin.name + ": without", '"' + name + '"', "the name of a cut of the order");
    }
}

} // namespace tranche
