// The chance that the order of a sheet is filled when its loins are cut as they were planned.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>
#include <vector>

#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/orders/advice/order_as_cut.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_grind.hpp>
#include <tranche/sheet/detail/sheet_model.hpp>
#include <tranche/sheet/detail/sheet_orders.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/sheet_planning.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// How far loins and knife of an order are known: the loins as the one of them that is known least. What a loin weighs to the length varies
/// with its weight and, the other way, with its length; of a guess single slices do as well. Between two marks the knife errs twice.
template <class = when_called>
[[nodiscard]] cutting_spreads spreads_of(const cut_sheet& sheet) {
    const sheet_study& study = *sheet.study;
    cutting_spreads spreads{.ratio = 0.0,
                            .bias = length{},
                            .knife = study.by_marks ? std::numbers::sqrt2 * study.knife : study.knife,
                            .single_slab = 0.0};
    for (const sheet_loin& loin : sheet.loins) {
        const bool guess = loin.stations.empty() && !study.stated_only;
        const loin_proportions kind = proportions_of(loin);
        const fraction longer = study.length_spread.value_or(guess ? kind.length.spread : 0.0);
        spreads.ratio = std::max(spreads.ratio, std::hypot(study.weight_spread.value_or(0.0), longer));
        if (guess) spreads.single_slab = std::max(spreads.single_slab, kind.local_mass_per_length.spread);
    }
    return spreads;
}

/// What is said of a study of an order that `search_limits::stop` ended.
[[nodiscard]] TRANCHE_COLD inline std::string order_study_stopped(std::uint64_t evenings, std::uint64_t asked) {
    if (evenings == 0)
        return "The study was stopped before it came to the order: how often that is filled is not known.";
    return "The study was stopped: how often the order is filled is known of " + std::to_string(evenings) + " of " +
           std::to_string(asked) + " evenings.";
}
/// What is said of an order that has no loin for a study to cut.
[[nodiscard]] TRANCHE_COLD inline std::string order_not_studied() {
    return "The order opens no loin, so the study has none to cut for it.";
}

/// The chances of an order that opens a loin; of no evenings where it was stopped before the first.
template <class = when_called>
[[nodiscard]] order_chances study_order(const sheet_answer& answer, const sheet_planning& how) {
    const cut_sheet& sheet = answer.sheet;
    std::vector<profile> meat;
    for (const loin_answer& loin : answer.loins) meat.push_back(tabulate(loin.loin, grid_of(sheet)));
    const sheet_orders<> orders(sheet, credited_prices(prices_of(sheet), sheet, answer.grind), meat);
    const study_options options{.replicates = static_cast<std::uint64_t>(sheet.study->loins), .stop = how.search.stop};
    const study_result evenings =
        run_study(order_as_cut(orders.planned(), answer.order->plan, spreads_of(sheet)), options);
    return {.evenings = evenings.replicates(),
            .filled = evenings["filled"].mean().value_or(0.0),
            .missing = evenings["missing"].mean().value_or(0.0)};
}

} // namespace tranche::detail
