// The answer of a plan in a line or two: portions of what weight, what one costs, what cutting saves and up to which price.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cost/savings/break_even.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/tables/plan_tables.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

namespace detail {

/// What a bill and its savings say in an answer, whatever the currency. Prices are those of a kilogram.
struct answer_money {
    struct comparison {
        const std::string* against = nullptr;
        std::int64_t net = 0;
        break_even<double> price{};
    };
    iso_currency in{};
    std::vector<portion_figure> portions{};
    double per_usable = 0.0;
    fraction yield = 0.0;
    bool purged = false;
    std::vector<comparison> compared{};
};

template <currency C>
[[nodiscard]] TRANCHE_COLD answer_money answer_money_of(const bill<C>& settled) {
    answer_money money{.in = iso_form<C>(), .yield = settled.test.yield(), .purged = settled.purge.count > 0};
    for (const costed_portion<C>& p : settled.portions) money.portions.push_back({p.slab, p.spec, p.cost.minor});
    if (const auto price = settled.test.cost_per_usable()) money.per_usable = price->value();
    return money;
}
template <currency C>
TRANCHE_COLD void add_comparisons(answer_money& money, const std::vector<savings<C>>& saved) {
    for (const savings<C>& one : saved) {
        const auto even = break_even_price(one.terms);
        money.compared.push_back({&one.against, one.net_saving.minor, {{}, even.saves_anyway}});
        if (even.at) money.compared.back().price.at = even.at->value();
    }
}

/// "10 × strip steak of 12 1/4 oz (11 to 12 1/2 oz), 6.52 USD each": the middle weight, and the lightest to the heaviest where they
/// read differently.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string portions_text(std::vector<micrograms> weights, const std::string& name,
                                                     const kitchen_units& units) {
    std::sort(weights.begin(), weights.end());
    const auto text = [&](micrograms m) { return to_text(to_mass(m), units.portion); };
    std::string words = std::to_string(weights.size()) + std::string(no_break_space) + "×" +
                        std::string(no_break_space) + name + " of " + text(weights[weights.size() / 2]);
    if (text(weights.front()) != text(weights.back()))
        words += " (" + number_of(to_mass(weights.front()), units.portion) + " to " + text(weights.back()) + ')';
    return words;
}

/// ", 6.52 USD each", on average where costs differ by more than a minor unit.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string cost_each_text(const answer_money& money, std::size_t spec) {
    std::int64_t sum = 0, count = 0, least = 0, most = 0;
    for (const portion_figure& p : money.portions) {
        if (p.spec != spec) continue;
        least = count == 0 ? p.cost : std::min(least, p.cost);
        most = count == 0 ? p.cost : std::max(most, p.cost);
        sum += p.cost;
        ++count;
    }
    if (count == 0) return "";
    const std::int64_t half = sum < 0 ? -(count / 2) : count / 2;
    return ", " + money_text((sum + half) / count, money.in) + " each" + (most - least > 1 ? " on average" : "");
}

/// "saves 92.30 USD against ready-cut steak (pays up to 9.10 USD/lb)".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string comparison_text(const answer_money::comparison& one, const iso_currency& in,
                                                       const kitchen_units& units) {
    const std::string pays = one.price.at             ? "pays up to " + price_text(*one.price.at, in, units)
                             : one.price.saves_anyway ? "pays at any price of the loin"
                                                      : "pays at no price of the loin";
    return (one.net < 0 ? "loses " : "saves ") + money_text(one.net < 0 ? -one.net : one.net, in) + " against " +
           *one.against + " (" + pays + ')';
}

/// A plan that takes nothing off the loin but its cuts promises more than a loin gives.
template <class = when_called>
[[nodiscard]] bool takes_nothing_off(const cutting_plan& cuts, bool purged) {
    return !purged && std::none_of(cuts.slabs.begin(), cuts.slabs.end(),
                                   [](const slab& s) { return s.kind == slab_kind::facing || s.trim.sum().count > 0; });
}

/// `money` is null for a plan without prices.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::vector<std::string> answer_lines(const planned& planned, const kitchen_units& units,
                                                                 const answer_money* money) {
    const cutting_plan& cuts = planned.plan;
    const std::size_t count = cuts.portion_count();
    if (count == 0) return {"No portions: the warnings say why."};
    std::vector<std::vector<micrograms>> weights(cuts.specs.size());
    micrograms together;
    for (const slab& s : cuts.slabs)
        for (const micrograms w : cuts.portions_of(s)) {
            weights[s.option].push_back(w);
            together += w;
        }
    std::string first;
    std::size_t cut = 0;
    for (std::size_t spec = 0; spec < weights.size(); ++spec) {
        if (weights[spec].empty()) continue;
        ++cut;
        first += (first.empty() ? "" : "; ") + portions_text(weights[spec], cuts.specs[spec].name, units);
        if (money != nullptr) first += cost_each_text(*money, spec);
    }
    std::vector<std::string> lines{(cut > 1 ? std::to_string(count) + " portions: " : "") + first + '.'};
    const fraction kept = to_mass(together) / to_mass(cuts.total);
    const std::string yield = percent_text(money != nullptr ? money->yield : kept);
    std::string second;
    if (money == nullptr)
        second = "Yield " + yield + " of the loin on the board";
    else if (money->compared.empty())
        second = "Yield " + yield + " of what was bought; the portions cost " +
                 price_text(money->per_usable, money->in, units);
    else
        for (const answer_money::comparison& one : money->compared)
            second += (second.empty() ? "Cutting " : "; ") + comparison_text(one, money->in, units);
    lines.push_back(second + '.');
    if (takes_nothing_off(cuts, money != nullptr && money->purged))
        lines.push_back("The yield of " + yield + " is a ceiling: nothing is trimmed off or faced" +
                        (money != nullptr ? ", and no purge is counted." : "."));
    return lines;
}

} // namespace detail

/// What came of a plan without prices, for the top of a report: how many portions of each cut, their middle weight, the lightest
/// and the heaviest; then the yield. A plan that neither trims nor faces the loin has one line more: its yield is a ceiling. Weights
/// are written in `units`; throws as `to_text` for one that cannot be written. O(portions log portions).
template <class = detail::when_called>
[[nodiscard]] std::vector<std::string> answer_lines(const planned& planned, const kitchen_units& units = us_kitchen) {
    return detail::answer_lines(planned, readable_units(units, planned.plan), nullptr);
}

/// The same of a plan and its bill, with what one portion costs; the second line says what cutting saved or lost
/// against each alternative, and up to which price of the whole loin it pays (`break_even_price`), or without any the
/// yield and the cost of the portions by weight. `settled` is the bill of `planned`, `saved` are savings of that bill.
/// Throws as that does. O(portions log portions).
template <currency C>
[[nodiscard]] TRANCHE_COLD std::vector<std::string> answer_lines(const planned& planned, const bill<C>& settled,
                                                                 const std::vector<savings<C>>& saved = {},
                                                                 const kitchen_units& units = us_kitchen) {
    detail::answer_money money = detail::answer_money_of(settled);
    detail::add_comparisons(money, saved);
    return detail::answer_lines(planned, readable_units(units, planned.plan), &money);
}

} // namespace tranche
