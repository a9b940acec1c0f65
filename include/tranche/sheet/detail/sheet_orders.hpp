// The orders of a sheet as an order over its loins, and what became of it.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/price_list.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/orders/advice/loins_that_help.hpp>
#include <tranche/orders/advice/rank_suppliers.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_account.hpp>
#include <tranche/orders/plan_order.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Every loin and every cut of a sheet as an order: cuts that nobody ordered are cut from no loin.
///
/// - For best value a loin is worth what was paid for it, portions sell at their prices, and loose meat and trim at those of by-products.
///   What is left over of a cut sold by weight would be paid for as well: so its worth as a surplus is lowered by the price of a portion
///   in the middle of its limits, which leaves what the sheet says it is worth, to within what its weight is off that.
/// - For most portions a missing portion costs more than ten loins, so that as few as can be are missing; then what loins cost counts,
///   or without prices what they weigh; of portions that may be cut and need not, as many as the opened loins give.
template <class = when_called>
class sheet_orders {
public:
    sheet_orders(const cut_sheet& sheet, const price_list<chosen_currency>& prices, const std::vector<profile>& meat)
        : sheet_(sheet), priced_(sheet.currency.has_value()), best_value_(sheet.plan_for == sheet_aim::best_value) {
        for (const sheet_loin& loin : sheet.loins) priced_ = priced_ && loin.price;
        wanted_.rules = sheet.rules;
        wanted_.by_products = prices.by_products;
        wanted_.labour = prices.labour;
        for (std::size_t i = 0; i < sheet.loins.size(); ++i) add(sheet.loins[i], meat[i]);
        for (const sheet_cut& cut : sheet.cuts) add(cut, meat.front());
        planned_ = wanted_;
        if (!best_value_) for_most_portions();
    }

    /// What is planned, and what its account is of: they differ in what is worth something only to tell plans apart.
    [[nodiscard]] const order<chosen_currency>& planned() const { return planned_; }

    /// The loins of the sheet as they were bought, and at the price of each offer that is of loins: an offer all of which becomes portions
    /// is of nothing that could be cut. Nothing if there is none, or without prices.
    [[nodiscard]] std::vector<order_supplier<chosen_currency>> suppliers() const {
        std::vector<order_supplier<chosen_currency>> all;
        if (!priced_ || !best_value_) return all;
        for (const sheet_offer& offer : sheet_.offers) {
            if (offer.yield >= 1.0) continue;
            if (all.empty()) all.push_back({.name = "this sheet", .loins = planned_.loins});
            all.push_back({.name = offer.name, .loins = planned_.loins});
            for (std::size_t i = 0; i < sheet_.loins.size(); ++i)
                all.back().loins[i].worth = sheet_money(sheet_.loins[i].weight * offer.bought.price);
        }
        return all;
    }

    [[nodiscard]] sheet_order_answer answer(const order_plan<chosen_currency>& plan) const {
        sheet_order_answer answer{
            .plan = plan, .account = account_of(wanted_, plan), .helps = {}, .suppliers = {}, .chances = {}};
        order_account& account = answer.account;
        if (!priced_) account.currency = {};
        if (best_value_) return answer;
        account.bound = account.total();
        if (account.ended != order_end::proven) account.relative_gap = std::numeric_limits<double>::infinity();
        for (order_line_account& line : account.lines) line.last_portion = 0;
        return answer;
    }

private:
    static constexpr double trifle = 1e-6; // nobody is to cut what nobody wants

    void add(const sheet_loin& loin, const profile& meat) {
        order_loin<chosen_currency> one{.name = loin.name.empty() ? "the loin" : loin.name, .meat = loin_source(meat)};
        if (priced_) one.worth = sheet_money(loin.weight * *loin.price);
        for (const sheet_cut& cut : sheet_.cuts)
            if (std::none_of(sheet_.orders.begin(), sheet_.orders.end(),
                             [&](const sheet_order& o) { return o.cut == cut.spec.name; }))
                one.without.push_back(cut.spec.name);
        wanted_.loins.push_back(std::move(one));
    }
    void add(const sheet_cut& cut, const profile& meat) {
        order_line<chosen_currency> line{.cut = cut.spec, .at_most = 0};
        for (const sheet_order& ordered : sheet_.orders) {
            if (ordered.cut != cut.spec.name) continue;
            line.at_least = ordered.at_least.value_or(0);
            line.at_most = ordered.at_most.value_or(demand::any_number);
            if (ordered.left_over && !ordered.at_most)
                line.at_most = line.at_least; // what is above that number is left over
            line.price = {.by_weight = cut.price.value_or(sheet_price{}),
                          .each = cut.price_each.value_or(sheet_money{})};
            line.unfilled = ordered.unfilled.value_or(sheet_money{});
            line.surplus = ordered.left_over.value_or(sheet_money::from_value(-trifle)) -
                           sheet_money(unfused(middle_weight(cut.spec, meat) * line.price.by_weight));
            line.surplus = std::min(line.surplus, line.price.each);
        }
        wanted_.lines.push_back(std::move(line));
    }
    /// Of a portion: in the middle of its limits, or as heavy as the middle of its thickness makes it.
    [[nodiscard]] static mass middle_weight(const cut_spec& cut, const profile& meat) {
        if (cut.portion.max < unlimited<mass>()) return 0.5 * (cut.portion.min + cut.portion.max);
        if (cut.portion.min > mass{}) return cut.portion.min;
        const length thick =
            cut.thickness.max < unlimited<length>() ? 0.5 * (cut.thickness.min + cut.thickness.max) : cut.thickness.min;
        return thick / meat.extent() * to_mass(meat.total()) / static_cast<double>(cut.pieces);
    }

    void for_most_portions() {
        double dearest = 0.0;
        for (std::size_t i = 0; i < planned_.loins.size(); ++i) {
            if (!priced_) planned_.loins[i].worth = sheet_money::from_value(sheet_.loins[i].weight / kilogram);
            dearest = std::max(dearest, planned_.loins[i].worth.value());
        }
        if (!priced_) planned_.by_products = {};
        planned_.labour = {};
        for (order_line<chosen_currency>& line : planned_.lines) {
            const bool ordered = line.at_most > 0;
            line.price = {.by_weight = {}, .each = sheet_money::from_value(ordered ? trifle * dearest : 0.0)};
            line.unfilled = sheet_money::from_value(10.0 * dearest + 1.0);
            line.surplus = sheet_money::from_value(-trifle * dearest);
        }
    }

    const cut_sheet& sheet_;
    bool priced_, best_value_;
    order<chosen_currency> wanted_, planned_;
};

} // namespace tranche::detail
