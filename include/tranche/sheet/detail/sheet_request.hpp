// What a sheet asks of a loin: the request, its prices, and the want behind its aim.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <stdexcept>
#include <string>

#include <tranche/cut/price_list.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/optimise/plans/settings_want.hpp>
#include <tranche/optimise/request/cutting_request.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

[[nodiscard]] inline cutting_request request_of(const cut_sheet& sheet) {
    cutting_request request{.rules = sheet.rules};
    for (const sheet_cut& cut : sheet.cuts) {
        request.cuts.push_back(cut.spec);
        if (cut.at_least || cut.at_most)
            request.demands.push_back({.spec = cut.spec.name,
                                       .at_least = cut.at_least.value_or(0),
                                       .at_most = cut.at_most.value_or(demand::any_number)});
    }
    return request;
}

/// The same for slabs of one thickness.
[[nodiscard]] inline cutting_request request_of(const cut_sheet& sheet, length thickness) {
    cutting_request request = request_of(sheet);
    for (cut_spec& cut : request.cuts) {
        cut.thickness = {thickness, thickness};
        cut.thickness_step = length{};
    }
    return request;
}

[[nodiscard]] inline price_list<chosen_currency> prices_of(const cut_sheet& sheet) {
    price_list<chosen_currency> prices{.portions = {}, .by_products = sheet.by_products, .labour = sheet.labour};
    for (const sheet_cut& cut : sheet.cuts)
        if (cut.price || cut.price_each)
            prices.portions[cut.spec.name] = {.by_weight = cut.price.value_or(sheet_price{}),
                                              .each = cut.price_each.value_or(sheet_money{})};
    return prices;
}

[[nodiscard]] inline charged_weights charges_of(const cut_sheet& sheet) {
    charged_weights charged;
    for (const sheet_cut& cut : sheet.cuts)
        if (cut.charged_as) charged[cut.spec.name] = *cut.charged_as;
    return charged;
}

/// Whether it is planned for a score, so that limits can be moved and planned with again in time.
[[nodiscard]] inline bool aims_at_a_score(const cut_sheet& sheet) {
    return sheet.plan_for != sheet_aim::even_portions && sheet.plan_for != sheet_aim::fewest_settings;
}

/// Calls use(want) with what a sheet is planned for, if that is a score.
template <class Use>
decltype(auto) with_score_want(const cut_sheet& sheet, const price_list<chosen_currency>& prices, const Use& use) {
    switch (sheet.plan_for) {
    case sheet_aim::most_portions: return use(most_portions());
    case sheet_aim::least_waste: return use(least_waste());
    case sheet_aim::best_value: return use(best_value(prices));
    case sheet_aim::least_giveaway: return use(least_giveaway(charges_of(sheet)));
    case sheet_aim::even_portions:
    case sheet_aim::fewest_settings: break;
    }
    throw std::logic_error("an aim that is no score");
}

/// The same with any aim.
template <class Use>
decltype(auto) with_want(const cut_sheet& sheet, const price_list<chosen_currency>& prices, const Use& use) {
    if (sheet.plan_for == sheet_aim::even_portions)
        return use(even_portions(sheet.portions, sheet.even_within.value_or(mass{})));
    if (sheet.plan_for == sheet_aim::fewest_settings) return use(fewest_settings());
    return with_score_want(sheet, prices, use);
}

} // namespace tranche::detail
