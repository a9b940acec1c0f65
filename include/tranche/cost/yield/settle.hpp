// From a plan to a bill: every part of the purchase with its weight and value, and what each portion cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include <tranche/cost/yield/purchase.hpp>
#include <tranche/cost/yield/weighing_tolerance.hpp>
#include <tranche/cost/yield/yield_test.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/text/to_text.hpp>
#include <tranche/units/amount.hpp>

namespace tranche {

/// One portion and its share of the cost.
template <currency C>
struct costed_portion {
    std::size_t slab = 0, spec = 0; ///< indices into the plan's slabs and specs
    micrograms weight{};
    amount<C> cost{};

    friend bool operator==(const costed_portion&, const costed_portion&) = default;
};

/// What a plan came to. The weights of the test's lines add up to the purchase, the costs of the portions to its
/// primary value, both exactly.
template <currency C>
struct bill {
    yield_test<C> test;
    std::vector<costed_portion<C>> portions;
    micrograms purge{}; ///< bought but not on the board: purchase - plan, or none where the scale found more
    /// What is easily overlooked, in sentences for whoever reads the bill: that no portion carries what was paid, by-products
    /// without a value, a board that weighed more than the invoice. Empty if all is well.
    std::vector<std::string> remarks{};

    friend bool operator==(const bill&, const bill&) = default;
};

/// How a bill is settled.
struct settle_rules {
    weighing_tolerance scale_tolerance{}; ///< how much more than the purchase may have been on the board
    /// Whether a by-product without a value, or a bill without portions, is an error and not a remark.
    bool strict = false;

    friend bool operator==(const settle_rules&, const settle_rules&) = default;
};

/// Settles a plan: purchase = purge + portions + loose meat and trim by destination + cutting loss. By-products are
/// credited at the values of the list; the rest of what was paid is shared out among the portions by weight, by largest
/// remainder. If there are no portions nothing carries it, and the primary value is the loss of the day: a remark says so.
/// A by-product whose destination has no value in the list is credited at nothing, and its line is named "… (no value
/// given)"; zero is a value, and `discard` needs none.
///
/// What was cut may weigh more than the purchase by the tolerance of the scales: there is no purge then, and a line
/// "unaccounted for" below zero. Throws `invalid_input` for a bad purchase, value or tolerance, for a purchase that
/// weighs less, and under strict rules for what they refuse. O(slabs + portions log portions). The weight bought is
/// above zero, its price finite and zero or more, values any finite ones (below zero: it costs to be rid of). Masses
/// are counted in whole micrograms, money in minor units, rounded as `how` says. The account is that of
/// `cutting_yield_test`; its source is there. What is done with purge and unaccounted weight is common practice, no
/// source.
template <currency C>
[[nodiscard]] bill<C> settle(const cutting_plan& cuts, const purchase<C>& bought, const price_list<C>& prices = {},
                             rounding how = rounding::half_even, const settle_rules& rules = {}) {
    validate(bought);
    validate(prices);
    validate(rules.scale_tolerance);
    bill<C> result;
    const micrograms rest = to_micrograms(bought.weight, "purchase.weight") - cuts.total;
    result.purge = std::max(rest, micrograms{});
    if (const micrograms allowed = rules.scale_tolerance.at(bought.weight); micrograms{} - rest > allowed)
        throw invalid_input("purchase.weight", detail::rounded_down(bought.weight),
                            sentence("at least the weight that was cut, ") + detail::rounded_up(to_mass(cuts.total)) +
                                "; that is heavier by " + detail::rounded_up(to_mass(micrograms{} - rest)) +
                                ", more than the " + detail::rounded_down(to_mass(allowed)) + " of the scale");
    if (rest < micrograms{})
        result.remarks.emplace_back("More was cut than was bought, within the tolerance of the scales: see the line "
                                    "\"unaccounted for\".");

    const mass_balance balance = balance_of(cuts);
    std::vector<weighed_part<C>> parts;
    for (std::size_t s = 0; s < cuts.specs.size(); ++s)
        if (balance.portions[s].count > 0)
            parts.push_back({cuts.specs[s].name, to_mass(balance.portions[s]), part_role::usable, {}});
    by_destination<bool> unvalued;
    const auto by_products = [&](const by_destination<micrograms>& masses, const char* kind) {
        for (const destination d : all_destinations) {
            if (masses[d].count == 0) continue;
            std::string name = std::string(kind) + " to " + std::string(name_of(d));
            if (d != destination::discard && !prices.by_products[d]) {
                if (rules.strict)
                    throw invalid_input("value of " + std::string(name_of(d)), "none",
                                        "one, because the plan has " + name + "; zero is a value");
                name += " (no value given)";
                unvalued[d] = true;
            }
            parts.push_back({name, to_mass(masses[d]), part_role::by_product, prices.of(d), std::string(name_of(d))});
        }
    };
    by_products(balance.loose, "loose meat");
    by_products(balance.trim, "trim");
    if (balance.cutting_loss.count > 0)
        parts.push_back({"cutting loss", to_mass(balance.cutting_loss), part_role::loss, {}});
    if (result.purge.count > 0) parts.push_back({"purge", to_mass(result.purge), part_role::loss, {}});
    std::string names;
    for (const destination d : all_destinations)
        if (unvalued[d]) names += (names.empty() ? "" : ", ") + std::string(name_of(d));
    if (!names.empty())
        result.remarks.push_back("No value is given for " + names + ": what goes there is credited at nothing.");
    // Not a microgram goes from one line to another: the portions' weights are those of the plan.
    result.test = detail::test_of_parts(bought, parts, rules.scale_tolerance, 0, how);
    if (result.test.usable.count == 0) {
        if (rules.strict)
            throw invalid_input("plan", "no portions",
                                "portions, to carry the " + to_text(result.test.primary_value) +
                                    " that are left of what was paid");
        result.remarks.insert(result.remarks.begin(), "No portions: nothing carries the " +
                                                          to_text(result.test.primary_value) +
                                                          " that are left of what was paid.");
    }

    std::vector<std::int64_t> weights;
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i)
        for (const micrograms weight : cuts.portions_of(cuts.slabs[i])) {
            result.portions.push_back({i, cuts.slabs[i].option, weight, {}});
            weights.push_back(weight.count);
        }
    if (result.test.usable.count > 0) {
        const std::vector<amount<C>> costs = split(result.test.primary_value, std::span<const std::int64_t>(weights));
        for (std::size_t k = 0; k < costs.size(); ++k) result.portions[k].cost = costs[k];
    }
    return result;
}

template <currency C>
bill<C> settle(const cutting_plan& cuts, const detail::purchase_with_price_in_another_currency<C>& bought,
               const price_list<C>& prices = {}, rounding how = rounding::half_even,
               const settle_rules& rules = {}) = delete;

} // namespace tranche
