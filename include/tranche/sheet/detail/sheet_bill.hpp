// A planned loin of a sheet as money: its bill, its savings, and the account of it; and accounts that add up.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/joint/joint_products.hpp>
#include <tranche/cost/savings/edible_basis.hpp>
#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// The costs of cutting that fall on one loin: time and wear by the weight bought, the rest by its portions.
[[nodiscard]] inline cutting_costs<chosen_currency> costs_of_loin(const cut_sheet& sheet, const sheet_loin& loin) {
    cutting_costs<chosen_currency> costs = sheet.costs;
    if (sheet.loins.size() < 2) return costs;
    mass all{};
    for (const sheet_loin& l : sheet.loins) all += l.weight;
    const double share = loin.weight / all;
    costs.time = share * costs.time;
    costs.knife_wear = share * costs.knife_wear;
    return costs;
}

/// Cutting the loin against each alternative of the sheet, on the basis of what is wanted of either.
template <class = when_called>
[[nodiscard]] std::vector<savings<chosen_currency>> comparisons(const cut_sheet& sheet, const sheet_loin& loin,
                                                                const price_list<chosen_currency>& prices,
                                                                const profile& meat, const cutting_plan& cuts,
                                                                const bill<chosen_currency>& settled) {
    std::vector<savings<chosen_currency>> compared;
    for (const sheet_alternative& other : sheet.alternatives) {
        ready_cut<chosen_currency> ready = other.ready;
        const std::vector<own_portions> own = own_portions_of(cuts, sheet.basis);
        const bool any = std::any_of(own.begin(), own.end(), [&](const own_portions& o) {
            return o.weight.count > 0 &&
                   (ready.replaces.empty() ||
                    std::find(ready.replaces.begin(), ready.replaces.end(), o.name) != ready.replaces.end());
        });
        if (other.look && any) { // without portions to replace there are no slabs that it could look like
            const fraction wanted =
                edible_share(shares_of_ready_cut(*other.look, meat, cuts, ready.replaces), sheet.basis);
            if (wanted > 0.0) ready.edible_share = wanted;
        }
        compared.push_back(
            make_or_buy(ready, cuts, settled, {.prices = prices, .costs = costs_of_loin(sheet, loin)}, sheet.basis));
    }
    return compared;
}

/// The bill of a loin that has a price. Where the sheet says so, its portions carry the cost by what they sell for.
template <class = when_called>
void settle_loin(loin_answer& answer, const cut_sheet& sheet, const sheet_loin& loin,
                 const price_list<chosen_currency>& prices) {
    if (!loin.price) return;
    answer.settled =
        settle<chosen_currency>(answer.planned.plan, {.weight = loin.weight, .price = *loin.price}, prices);
    if (!sheet.retail || sheet.retail->share_cost_by != cost_share::sales_value) return;
    jointly_settled<chosen_currency> shared =
        share_joint_cost<chosen_currency>(answer.planned.plan, std::move(*answer.settled),
                                          {.at_split_off = prices.portions}, joint_method::split_off_value);
    answer.settled = std::move(shared.settled);
    if (!shared.allocation.lines.empty()) answer.shared = std::move(shared.allocation);
}

/// What of the packs is sold.
[[nodiscard]] inline fraction sold_share(const cut_sheet& sheet) {
    return sheet.retail ? 1.0 - sheet.retail->shrink : 1.0;
}

template <class = when_called>
[[nodiscard]] sheet_account account_of(const loin_answer& answer, const cut_sheet& sheet, const sheet_loin& loin) {
    const cutting_plan& cuts = answer.planned.plan;
    const mass_balance balance = balance_of(cuts);
    sheet_account account{.loins = 1,
                          .bought = to_micrograms(loin.weight),
                          .on_the_board = cuts.total,
                          .loose = balance.loose,
                          .trim = balance.trim,
                          .cutting_loss = balance.cutting_loss};
    account.purge = account.bought - cuts.total;
    for (const sheet_cut& cut : sheet.cuts) account.cuts.push_back({.name = cut.spec.name});
    for (const slab& s : cuts.slabs)
        for (const micrograms weight : cuts.portions_of(s)) {
            cut_account& of = account.cuts[s.option];
            of.lightest = of.portions == 0 ? weight : std::min(of.lightest, weight);
            of.heaviest = std::max(of.heaviest, weight);
            of.weight += weight;
            ++of.portions;
        }
    bool all_priced = false;
    account.sales = sheet_amount{};
    for (std::size_t c = 0; c < sheet.cuts.size(); ++c) {
        cut_account& of = account.cuts[c];
        const sheet_cut& cut = sheet.cuts[c];
        if (!cut.price && !cut.price_each) {
            if (of.portions > 0) account.sales.reset();
            continue;
        }
        all_priced = true;
        const sheet_money worth = unfused(to_mass(of.weight) * cut.price.value_or(sheet_price{})) +
                                  unfused(static_cast<double>(of.portions) * cut.price_each.value_or(sheet_money{}));
        of.sales = rounded<chosen_currency>(sold_share(sheet) * worth, rounding::half_even, "sales");
        if (account.sales) *account.sales += *of.sales;
    }
    if (!all_priced) account.sales.reset();
    if (!answer.settled) return account;
    const bill<chosen_currency>& settled = *answer.settled;
    account.paid = settled.test.paid;
    account.credit = settled.test.credit;
    account.primary_value = settled.test.primary_value;
    account.purge_cost =
        rounded<chosen_currency>(to_mass(settled.purge) * *loin.price, rounding::half_even, "cost of the purge");
    for (cut_account& of : account.cuts) of.cost = sheet_amount{};
    for (const costed_portion<chosen_currency>& p : settled.portions) *account.cuts[p.spec].cost += p.cost;
    for (const savings<chosen_currency>& saved : answer.saved)
        account.saved.push_back({saved.against, saved.gross_saving, saved.net_saving, saved.terms});
    return account;
}

template <class T>
void add_known(std::optional<T>& sum, const std::optional<T>& more) {
    if (sum && more)
        *sum += *more;
    else
        sum.reset();
}

/// Terms of two savings against one alternative as those of one purchase, at the mean price.
[[nodiscard]] inline savings_terms<chosen_currency> together(savings_terms<chosen_currency> sum,
                                                             const savings_terms<chosen_currency>& more) {
    const sheet_money paid = sum.bought.cost() + more.bought.cost();
    sum.bought.weight += more.bought.weight;
    sum.bought.price = paid / sum.bought.weight;
    sum.equivalent += more.equivalent;
    sum.portions += more.portions;
    sum.other_portions += more.other_portions;
    sum.by_products += more.by_products;
    sum.costs_of_portions += more.costs_of_portions;
    sum.costs_of_loin += more.costs_of_loin;
    sum.time += more.time;
    return sum;
}

/// Adds the account of another loin of the same sheet.
template <class = when_called>
void add_account(sheet_account& sum, const sheet_account& more) {
    if (sum.loins == 0) {
        sum = more;
        return;
    }
    sum.loins += more.loins;
    sum.bought += more.bought;
    sum.on_the_board += more.on_the_board;
    sum.purge += more.purge;
    sum.cutting_loss += more.cutting_loss;
    for (const destination d : all_destinations) {
        sum.loose[d] += more.loose[d];
        sum.trim[d] += more.trim[d];
    }
    for (std::size_t c = 0; c < sum.cuts.size(); ++c) {
        cut_account& to = sum.cuts[c];
        const cut_account& from = more.cuts[c];
        if (from.portions > 0) {
            to.lightest = to.portions == 0 ? from.lightest : std::min(to.lightest, from.lightest);
            to.heaviest = std::max(to.heaviest, from.heaviest);
        }
        to.portions += from.portions;
        to.weight += from.weight;
        add_known(to.cost, from.cost);
        add_known(to.sales, from.sales);
    }
    for (auto part : {&sheet_account::paid, &sheet_account::credit, &sheet_account::primary_value,
                      &sheet_account::purge_cost, &sheet_account::sales})
        add_known(sum.*part, more.*part);
    if (sum.saved.size() != more.saved.size()) sum.saved.clear(); // not every loin has a price
    for (std::size_t i = 0; i < sum.saved.size(); ++i) {
        sum.saved[i].gross += more.saved[i].gross;
        sum.saved[i].net += more.saved[i].net;
        sum.saved[i].terms = together(sum.saved[i].terms, more.saved[i].terms);
    }
}

/// The price that each cut would have to sell at for the margin that the sheet asks for: cost / (1 - margin), by the
/// weight that is sold. Margin = (sales - cost) / sales, so sales = cost / (1 - margin).
template <class = when_called>
void add_prices_needed(sheet_account& account, const cut_sheet& sheet) {
    if (!sheet.retail || !sheet.retail->margin) return;
    for (cut_account& of : account.cuts) {
        if (!of.cost || of.portions == 0) continue;
        const sheet_money needed = to_money(*of.cost) / (1.0 - *sheet.retail->margin);
        of.price_needed = needed / (sold_share(sheet) * to_mass(of.weight));
        of.each_needed = rounded<chosen_currency>(needed / (sold_share(sheet) * static_cast<double>(of.portions)),
                                                  rounding::half_even, "price needed");
    }
}

/// Each loin as planned, and the offers of the sheet, by what an edible portion as large as those of the plans costs.
template <class = when_called>
[[nodiscard]] std::vector<ranked_offer<chosen_currency>> ranked_offers_of(const sheet_answer& answer) {
    const cut_sheet& sheet = answer.sheet;
    std::vector<offer<chosen_currency>> offers;
    mass edible{};
    std::size_t count = 0;
    for (std::size_t i = 0; i < answer.loins.size(); ++i) {
        const loin_answer& loin = answer.loins[i];
        if (!loin.settled || !loin.planned.feasible()) continue;
        const std::string name = loin.name.empty() ? "this loin, as planned" : "loin " + loin.name + ", as planned";
        offers.push_back(
            offer_of(name, loin.planned.plan, *loin.settled, sheet.basis, costs_of_loin(sheet, sheet.loins[i])));
        if (!(offers.back().edible_share > 0.0)) return {};
        edible += offers.back().edible_share * offers.back().portions;
        count += loin.planned.plan.portion_count();
    }
    if (offers.empty() || (sheet.offers.empty() && offers.size() < 2)) return {};
    const mass portion = edible / static_cast<double>(count);
    for (const sheet_offer& o : sheet.offers) {
        const double portions = o.edible_share * o.yield * o.bought.weight / portion;
        const sheet_money costs = o.time * sheet.costs.pay + sheet.costs.knife_wear +
                                  sheet.costs.of_portions(portions, o.yield * o.bought.weight);
        offers.push_back(offer_at_yield(
            o.name, o.bought, {.yield = o.yield, .rest = o.rest, .edible_share = o.edible_share, .costs = costs}));
    }
    return rank_offers(offers, portion);
}

} // namespace tranche::detail
