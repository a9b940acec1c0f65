// Whether cutting the loin beat buying ready cut: the rule of thumb, the honest figure, and the break-even price.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include <tranche/cost/purchase.hpp>
#include <tranche/cost/settle.hpp>
#include <tranche/cut/plan.hpp>
#include <tranche/cut/price_list.hpp>
#include <tranche/units/amount.hpp>

namespace tranche {

/// Meat that could have been bought ready cut, trimmed as the plan trims it, instead of the portions it `replaces`.
template <currency C>
struct ready_cut {
    std::string name{};
    unit_price<C> price{};
    std::vector<std::string> replaces{}; ///< names of specs; empty: all of them
};

/// One step from the rule of thumb to the honest figure, or one line of the honest figure itself.
template <currency C>
struct savings_line {
    std::string text;
    micrograms weight{};
    amount<C> value{};
};

/// With r the ready-cut price, p the price paid, W the weight bought, R the weight of the portions replaced, and V the own
/// value of everything else (other portions, loose meat, trim):
/// - rule of thumb: (r - p) W, which takes every pound bought for a pound of steak;
/// - honest: r R + V - p W;
/// - break-even price of the whole loin: (r R + V) / W, at which the honest figure is zero.
/// "Without the end" leaves the other portions, such as the steaks of the sirloin end, out of V.
template <currency C>
struct savings {
    amount<C> rule_of_thumb{}, honest{}, honest_without_end{};
    unit_price<C> break_even{}, break_even_without_end{};
    std::vector<savings_line<C>> lines; ///< add up to `honest`
};

/// Compares a settled plan with buying ready cut. Other portions are worth what `prices` says (those not named there:
/// nothing), by-products what they were credited on the bill. Throws `invalid_input` for a bad price, and for a name in
/// `replaces` that is no spec of the plan. O(portions × names).
template <currency C>
[[nodiscard]] savings<C> savings_against(const ready_cut<C>& ready, const plan& cuts, const bill<C>& settled,
                                         const price_list<C>& prices = {}, rounding how = rounding::half_even) {
    validate(prices);
    if (!(std::isfinite(ready.price.value()) && ready.price.value() >= 0.0))
        throw invalid_input(ready.name + ": price", shown(ready.price.value()), "a finite price, zero or more");
    for (const std::string& name : ready.replaces)
        if (std::none_of(cuts.specs.begin(), cuts.specs.end(), [&](const cut_spec& s) { return s.name == name; }))
            throw invalid_input(ready.name + ": replaces", '"' + name + '"', "the name of a cut in the plan");

    const purchase<C>& bought = settled.test.purchase;
    const mass_balance balance = balance_of(cuts);
    savings<C> result;
    money<C> own{}, ends{};
    micrograms replaced;
    amount<C> ends_on_paper{};
    for (std::size_t s = 0; s < cuts.specs.size(); ++s) {
        const std::string& name = cuts.specs[s].name;
        const micrograms weight = balance.portions[s];
        if (weight.count == 0) continue;
        if (ready.replaces.empty() ||
            std::find(ready.replaces.begin(), ready.replaces.end(), name) != ready.replaces.end()) {
            replaced += weight;
            continue;
        }
        money<C> worth{};
        if (const auto price = prices.portions.find(name); price != prices.portions.end()) {
            const auto pieces = std::count_if(settled.portions.begin(), settled.portions.end(),
                                              [&](const costed_portion<C>& p) { return p.spec == s; });
            worth = to_mass(weight) * price->second.by_weight + static_cast<double>(pieces) * price->second.each;
        }
        ends += worth;
        const amount<C> on_paper = rounded<C>(worth, how);
        ends_on_paper += on_paper;
        result.lines.push_back({name + " at its own value", weight, on_paper});
    }
    const money<C> replaced_worth = to_mass(replaced) * ready.price;
    result.lines.insert(result.lines.begin(),
                        {"the same portions bought as " + ready.name, replaced, rounded<C>(replaced_worth, how)});
    for (const yield_line<C>& line : settled.test.lines) {
        if (line.part.role != part_role::by_product) continue;
        own += to_mass(line.weight) * line.part.value;
        result.lines.push_back({line.part.name, line.weight, line.credit});
    }
    result.lines.push_back({"paid for the whole loin", settled.test.whole, -settled.test.paid});

    for (const savings_line<C>& line : result.lines) result.honest += line.value;
    result.honest_without_end = result.honest - ends_on_paper;
    result.rule_of_thumb = rounded<C>((ready.price - bought.price) * bought.weight, how);
    result.break_even = (replaced_worth + ends + own) / bought.weight;
    result.break_even_without_end = (replaced_worth + own) / bought.weight;
    return result;
}

} // namespace tranche
