// What a plan of an order comes to: portions and weights by line and by loin, and money, which add up.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/iso_currency.hpp>
#include <tranche/units/micrograms.hpp>

namespace tranche {

// Sums of money in an account are whole minor units of its currency, like a `money_figure`, so that tables, files and pictures of orders
// are compiled once for all currencies.

/// What came of a line of an order.
struct order_line_account {
    std::string name{};
    std::int64_t at_least = 0, at_most = 0; ///< as the line says
    filled_line filled{};
    micrograms weight{}, lightest{}, heaviest{}; ///< of its portions together; of one
    std::int64_t by_piece = 0, by_weight = 0;    ///< what they sell for
    std::int64_t unfilled = 0;                   ///< what missing portions cost
    std::int64_t left_over = 0;                  ///< what portions above `at_most` are worth, today or tomorrow
    std::int64_t last_portion = 0;               ///< the price of one portion more: `filled_line::price_billionths`

    friend bool operator==(const order_line_account&, const order_line_account&) = default;
};

/// What came of loins that are cut alike, or of some that stay whole; weights and portions are of one of them.
struct order_loin_account {
    std::size_t loin = 0; ///< index into the order's loins
    std::string name{};
    std::int64_t count = 1;
    bool opened = false;
    std::int64_t worth = 0;               ///< of one, unopened
    std::int64_t gives = 0;               ///< what one gives but for what is paid by the piece; zero if it stays whole
    std::vector<std::int64_t> portions{}; ///< by line
    micrograms whole{}, in_portions{}, loose{}, trim{}, cutting_loss{}, remnant{}; ///< zero if it stays whole

    friend bool operator==(const order_loin_account&, const order_loin_account&) = default;
};

/// What a plan of an order comes to. All masses of the opened loins add up to `whole()` to the microgram, and `total()`
/// is the sum of what is shown, to the minor unit: each figure is rounded by itself, so it is within half a minor unit
/// a figure of the plan's value. Masses are micrograms, money minor units; sums throw `invalid_input` only where 64
/// bits do not hold a mass.
struct order_account {
    iso_currency currency{};
    std::vector<order_line_account> lines{};
    std::vector<order_loin_account> loins{}; ///< by loin; opened ones first
    by_destination<micrograms> loose{}, trim{};
    by_destination<std::int64_t> by_products{}; ///< what these are worth
    micrograms cutting_loss{}, remnants{};
    std::int64_t remnants_kept = 0, remnants_worth = 0;
    std::int64_t opened = 0, unopened = 0;            ///< loins
    std::int64_t loins_worth = 0, unopened_worth = 0; ///< what the opened ones cost; what the others keep
    std::int64_t labour = 0;
    std::int64_t bound = 0;    ///< what no plan on these grids is worth more than
    double relative_gap = 0.0; ///< of the plan: see `order_plan`
    order_end ended = order_end::gap_left;

    /// Whether every line has its portions.
    [[nodiscard]] bool filled() const {
        return std::all_of(lines.begin(), lines.end(),
                           [](const order_line_account& line) { return line.filled.unfilled == 0; });
    }
    /// What the portions of all lines weigh, zero or more.
    [[nodiscard]] micrograms portions() const {
        micrograms sum;
        for (const order_line_account& line : lines) sum += line.weight;
        return sum;
    }
    /// All that was opened.
    [[nodiscard]] micrograms whole() const {
        micrograms sum = portions() + remnants + cutting_loss;
        for (const destination d : all_destinations) sum += loose[d] + trim[d];
        return sum;
    }
    /// What is sold and kept, less what it costs: minor units, of any sign.
    [[nodiscard]] std::int64_t total() const {
        std::int64_t sum = remnants_worth - loins_worth - labour;
        for (const order_line_account& line : lines)
            sum += line.by_piece + line.by_weight - line.unfilled + line.left_over;
        for (const destination d : all_destinations) sum += by_products[d];
        return sum;
    }

    friend bool operator==(const order_account&, const order_account&) = default;
};

namespace detail {

/// What a loin costs that is opened: an offcut of an earlier day nothing.
template <currency C>
[[nodiscard]] money<C> cost_of_opening(const order_loin<C>& loin) {
    return loin.opening == loin_opening::first ? money<C>{} : loin.worth;
}

template <currency C>
class order_accountant {
public:
    explicit order_accountant(const order<C>& wanted) : wanted_(wanted) {
        account_.currency = iso_form<C>();
        for (const order_line<C>& line : wanted.lines)
            account_.lines.push_back({.name = line.cut.name, .at_least = line.at_least, .at_most = line.at_most});
    }

    void add(const opened_loin& opened, const cutting_plan& cuts) {
        order_loin_account& of = row(opened.loin, opened.count);
        of.opened = true;
        of.gives = minor(static_cast<double>(opened.worth_billionths) / order_plan<C>::billionths);
        of.portions.assign(opened.portions.begin(), opened.portions.end());
        of.whole = cuts.total;
        const mass_balance balance = balance_of(cuts);
        for (std::size_t line = 0; line < account_.lines.size(); ++line) {
            of.in_portions += balance.portions[line];
            account_.lines[line].weight += times(balance.portions[line], opened.count);
        }
        if (wanted_.remnant) of.remnant = balance.portions.back();
        account_.remnants += times(of.remnant, opened.count);
        of.cutting_loss = balance.cutting_loss;
        account_.cutting_loss += times(of.cutting_loss, opened.count);
        for (const destination d : all_destinations) {
            of.loose += balance.loose[d];
            of.trim += balance.trim[d];
            account_.loose[d] += times(balance.loose[d], opened.count);
            account_.trim[d] += times(balance.trim[d], opened.count);
        }
        for (const slab& s : cuts.slabs) {
            if (s.kind != slab_kind::portions) continue;
            if (s.option >= account_.lines.size()) { // nobody works on a remnant
                account_.remnants_kept += opened.count;
                continue;
            }
            labour_ += unfused(static_cast<double>(opened.count) * wanted_.labour.of(cuts.spec_of(s)).value());
            order_line_account& line = account_.lines[s.option];
            for (const micrograms portion : cuts.portions_of(s)) {
                line.lightest = line.heaviest.count == 0 ? portion : std::min(line.lightest, portion);
                line.heaviest = std::max(line.heaviest, portion);
            }
        }
        account_.opened += opened.count;
        opened_ += unfused(static_cast<double>(opened.count) * cost_of_opening(wanted_.loins[opened.loin]).value());
    }
    void add(const unopened_loin& left) {
        row(left.loin, left.count);
        account_.unopened += left.count;
        unopened_ += unfused(static_cast<double>(left.count) * cost_of_opening(wanted_.loins[left.loin]).value());
    }
    [[nodiscard]] order_account account(const order_plan<C>& plan) {
        account_.bound = minor(static_cast<double>(plan.bound_billionths) / order_plan<C>::billionths);
        account_.relative_gap = plan.relative_gap();
        account_.ended = plan.ended;
        for (std::size_t i = 0; i < account_.lines.size(); ++i)
            settle(account_.lines[i], wanted_.lines[i], plan.lines[i]);
        for (const destination d : all_destinations)
            if (const auto& value = wanted_.by_products[d])
                account_.by_products[d] = minor(value->value() * to_mass(account_.loose[d] + account_.trim[d]).value());
        if (wanted_.remnant)
            account_.remnants_worth = minor(wanted_.remnant->value.value() * to_mass(account_.remnants).value());
        account_.loins_worth = minor(opened_);
        account_.unopened_worth = minor(unopened_);
        account_.labour = minor(labour_);
        std::stable_sort(account_.loins.begin(), account_.loins.end(),
                         [](const order_loin_account& a, const order_loin_account& b) {
                             return a.opened != b.opened ? a.opened : a.loin < b.loin;
                         });
        return std::move(account_);
    }

private:
    [[nodiscard]] static std::int64_t minor(double value) {
        return rounded<C>(money<C>::from_value(value), rounding::half_even, "order").minor;
    }
    [[nodiscard]] static micrograms times(micrograms m, std::int64_t count) {
        if (m.count != 0 && count > std::numeric_limits<std::int64_t>::max() / std::abs(m.count))
            throw invalid_input("mass", "a sum beyond 64 bits", "one below 9.2 million tonnes");
        return {m.count * count};
    }
    order_loin_account& row(std::size_t loin, std::int64_t count) {
        order_loin_account& of = account_.loins.emplace_back();
        of.loin = loin;
        of.name = wanted_.loins[loin].name;
        of.count = count;
        of.worth = minor(cost_of_opening(wanted_.loins[loin]).value());
        of.portions.assign(account_.lines.size(), 0);
        return of;
    }
    static void settle(order_line_account& to, const order_line<C>& line, const filled_line& filled) {
        to.filled = filled;
        const std::int64_t sold = std::min(filled.made, line.at_most);
        to.by_piece = minor(static_cast<double>(sold) * line.price.each.value());
        to.by_weight = minor(to_mass(to.weight).value() * line.price.by_weight.value());
        to.unfilled = minor(static_cast<double>(filled.unfilled) * line.unfilled.value());
        to.left_over = minor(unfused(static_cast<double>(filled.carried) * line.carry_over.value()) +
                             unfused(static_cast<double>(filled.surplus) * line.surplus.value()));
        to.last_portion = minor(static_cast<double>(filled.price_billionths) / order_plan<C>::billionths);
    }

    const order<C>& wanted_;
    order_account account_;
    double opened_ = 0.0, unopened_ = 0.0, labour_ = 0.0;
};

} // namespace detail

/// What a plan of an order comes to. Lays each opened loin out, O(cells) a loin, one at a time; `use(opened, cuts)` is called
/// with each plan on the way, so that cards or files of thousands need no second pass. Throws `invalid_input` for a plan of
/// another order, and where 64 bits do not hold a sum.
template <currency C, class Use>
[[nodiscard]] order_account account_of(const order<C>& wanted, const order_plan<C>& plan, const Use& use) {
    if (plan.lines.size() != wanted.lines.size())
        throw invalid_input("plan", std::to_string(plan.lines.size()) + " lines",
                            "a plan of this order, which has " + std::to_string(wanted.lines.size()));
    detail::order_accountant<C> accountant(wanted);
    for (const opened_loin& opened : plan.opened) {
        const cutting_plan cuts = lay_out(wanted, opened);
        accountant.add(opened, cuts);
        use(opened, cuts);
    }
    for (const unopened_loin& left : plan.unopened) accountant.add(left);
    return accountant.account(plan);
}
/// The same without a call for each plan.
template <currency C>
[[nodiscard]] order_account account_of(const order<C>& wanted, const order_plan<C>& plan) {
    return account_of(wanted, plan, [](const opened_loin&, const cutting_plan&) {});
}

} // namespace tranche
