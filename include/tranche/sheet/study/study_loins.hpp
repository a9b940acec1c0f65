// Draws loins like those of a sheet, and says what they come to.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/kinds/loin_proportions.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/optimise/plans/plan.hpp>
#include <tranche/sheet/cut_sheet.hpp>
#include <tranche/sheet/detail/sheet_grind.hpp>
#include <tranche/sheet/detail/sheet_model.hpp>
#include <tranche/sheet/detail/sheet_request.hpp>
#include <tranche/sheet/kitchen_of.hpp>
#include <tranche/sheet/plan_sheet.hpp>
#include <tranche/sheet/sheet_answer.hpp>
#include <tranche/sheet/study/detail/study_order.hpp>
#include <tranche/sheet/study_sheet.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/study/vary/loin_variation.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Any want, so that a study of a sheet is compiled once for all of its aims.
struct any_want {
    std::function<planned(const profile&, const cutting_request&)> plans;

    [[nodiscard]] planned operator()(const profile& meat, const cutting_request& request) const {
        return plans(meat, request);
    }
};

/// What is said of a study that `search_limits::stop` ended.
[[nodiscard]] TRANCHE_COLD inline std::string study_stopped() {
    return "The study was stopped: chances are of fewer loins than the sheet asks for, or there are none.";
}

/// What is said where the sheet's spreads make only loins that no loin can be.
[[nodiscard]] TRANCHE_COLD inline std::string none_can_be(const std::string& loin, std::uint64_t drawn) {
    return "Of " + std::to_string(drawn) + " loins drawn like " + (loin.empty() ? std::string("this one") : loin) +
           " none can be, so there are no chances of it: are the spreads too wide?";
}

/// The least fat that a request leaves on anything.
[[nodiscard]] inline length least_fat_cover(const cutting_request& request) {
    length least = request.rules.trim_whole.fat_cover;
    for (const cut_spec& cut : request.cuts) least = std::min(least, cut.trim.fat_cover);
    for (const loose_cut& cut : request.rules.loose) least = std::min(least, cut.trim.fat_cover);
    return least;
}

/// How loins like one of the sheet, what they cost and how they are trimmed differ from what it says.
template <class = when_called>
[[nodiscard]] loin_variation variation_of(const sheet_study& study, const sheet_loin& loin,
                                          const cutting_request& request) {
    const bool guess = loin.stations.empty();
    const loin_proportions kind = proportions_of(loin);
    loin_variation variation{.way = guess ? gives_way::width : gives_way::fill};
    // What the scale said, or about that.
    const mass spread = study.weight_spread.value_or(0.0) * loin.weight;
    variation.figures.push_back(weight_about(loin.weight, spread));
    const auto size = [&](varied what, const std::optional<fraction>& stated, fraction of_kind) {
        const fraction relative = stated.value_or(guess && !study.stated_only ? of_kind : 0.0);
        if (relative > 0.0) variation.figures.push_back(factor_about_one(what, relative));
    };
    size(varied::loin_length, study.length_spread, kind.length.spread); // none where it was measured
    size(varied::depth, study.depth_spread, kind.depth.spread);
    size(varied::fat_cover, study.fat_cover_spread, kind.fat_cover.spread);
    size(varied::tail, study.tail_spread, kind.tail.spread);
    if (guess && !loin.gluteus_medius && kind.gluteus_medius_share_at_end.value > 0.0) {
        size(varied::gluteus_medius_onset, {}, kind.gluteus_medius_onset.spread);
        size(varied::gluteus_medius_share, {}, kind.gluteus_medius_share_at_end.spread);
    }
    if (study.fat_left_spread > length{}) // no knife leaves less than none
        variation.figures.push_back(
            {varied::fat_left,
             distribution::truncated_normal(0.0, study.fat_left_spread.value(), -least_fat_cover(request).value(),
                                            std::numeric_limits<double>::infinity())});
    for (const auto& [what, relative] :
         {std::pair(varied::price, study.price_spread), std::pair(varied::by_product_values, study.worth_spread)})
        if (relative.value_or(0.0) > 0.0) variation.figures.push_back(factor_about_one(what, *relative));
    return variation;
}

/// Limits between which a figure lies so often.
struct likely_range {
    double least = 0.0, most = 0.0;
};
template <class = when_called>
[[nodiscard]] std::optional<likely_range> likely(const study_result& result, loin_output what, fraction sure) {
    const double beyond = 0.5 * (1.0 - sure);
    const auto found = estimate_quantiles(result[name_of(what)], {beyond, 1.0 - beyond});
    if (found.empty()) return std::nullopt;
    return likely_range{found[0].value, found[1].value};
}

template <class = when_called>
[[nodiscard]] loin_chances chances_of(const study_result& result, const sheet_study& study, bool once) {
    const auto count = [](double pieces) { return static_cast<std::size_t>(std::lround(pieces)); };
    const auto weight = [](double kilograms) { return to_micrograms(mass::from_value(kilograms)); };
    loin_chances chances{.sure = study.sure, .loins = result.replicates(), .planned_once = once};
    for (const std::uint64_t times : result.impossible()) chances.impossible += times;
    if (const auto range = likely(result, loin_output::portions, study.sure))
        chances.fewest = count(range->least), chances.most = count(range->most);
    if (const auto range = likely(result, loin_output::portions_within, study.sure))
        chances.fewest_within = count(range->least), chances.most_within = count(range->most);
    chances.within = result[name_of(loin_output::share_within)].mean().value_or(0.0);
    if (const auto range = likely(result, loin_output::lightest_portion, study.sure))
        chances.lightest = weight(range->least);
    if (const auto range = likely(result, loin_output::heaviest_portion, study.sure))
        chances.heaviest = weight(range->most);
    if (const auto range = likely(result, loin_output::yield, study.sure))
        chances.least_yield = range->least, chances.most_yield = range->most;
    if (const auto range = likely(result, loin_output::cost_per_portion, study.sure)) {
        const double unit = result[name_of(loin_output::cost_per_portion)].output().unit;
        chances.least = sheet_amount{std::llround(range->least / unit)};
        chances.dearest = sheet_amount{std::llround(range->most / unit)};
    }
    return chances;
}

/// The chances of one loin of an answer.
template <class = when_called>
[[nodiscard]] loin_chances study_loin(const sheet_answer& answer, std::size_t i, const sheet_planning& how) {
    const cut_sheet& sheet = answer.sheet;
    const sheet_study& study = *sheet.study;
    const sheet_loin& loin = sheet.loins[i];
    const price_list<chosen_currency> prices = credited_prices(prices_of(sheet), sheet, answer.grind);
    const cutting_request request =
        sheet.thicknesses.empty() ? request_of(sheet) : request_of(sheet, sheet.thicknesses.front());
    const loin_task task{.request = request,
                         .hand = {.knife = {.spread = study.knife, .judge_thickness = false},
                                  .follows = study.by_marks ? hand_follows::marks : hand_follows::thickness},
                         .purge = std::max<double>(0.0, 1.0 - board_weight(loin) / loin.weight),
                         .charged = charges_of(sheet)};
    loin_terms<chosen_currency> terms{.price = loin.price};
    terms.prices.by_products = prices.by_products;
    const profile meat = tabulate(answer.loins[i].loin, grid_of(sheet));
    const study_options options{.replicates = static_cast<std::uint64_t>(study.loins), .stop = how.search.stop};
    const auto chances = [&](const auto& way) {
        return chances_of(run_study(loin_study(meat, variation_of(study, loin, request), task, terms, way), options),
                          study, study.plan_once || !sheet.orders.empty());
    };
    // Plans of an order belong together: no loin has one of its own.
    if (study.plan_once || !sheet.orders.empty()) return chances(cut_by_one_plan(answer.loins[i].planned.plan));
    return chances(plan_for_each(any_want{[&](const profile& other, const cutting_request& asked) {
        return with_want(sheet, prices, [&](const auto& want) { return plan(other, asked, want, how.search); });
    }}));
}

} // namespace tranche::detail

namespace tranche {

template <class>
sheet_answer study_sheet(const cut_sheet& sheet, const sheet_planning& how) {
    sheet_answer answer = plan_sheet(sheet, how);
    if (!sheet.study) return answer;
    std::erase(answer.remarks, detail::not_studied());
    const currency_choice choice(detail::currency_of_sheet(sheet));
    try {
        const auto asked = static_cast<std::uint64_t>(sheet.study->loins);
        if (answer.order && answer.order->plan.opened.empty()) {
            answer.remarks.push_back(detail::order_not_studied());
        } else if (answer.order) {
            const order_chances chances = detail::study_order(answer, how);
            if (chances.evenings > 0) answer.order->chances = chances;
            if (chances.evenings < asked)
                answer.remarks.push_back(detail::order_study_stopped(chances.evenings, asked));
        }
        bool stopped = false;
        for (std::size_t i = 0; i < answer.loins.size(); ++i) {
            if (!answer.loins[i].opened || !answer.loins[i].planned.feasible()) continue;
            const loin_chances chances = detail::study_loin(answer, i, how);
            stopped = stopped || chances.loins < asked;
            if (chances.loins > chances.impossible)
                answer.loins[i].chances = chances;
            else if (chances.impossible > 0)
                answer.remarks.push_back(detail::none_can_be(answer.loins[i].name, chances.impossible));
        }
        if (stopped) answer.remarks.push_back(detail::study_stopped());
    } catch (const invalid_input& error) {
        const kitchen_units units = kitchen_of(sheet);
        throw invalid_input(error.field(), in_units(error.value_words(), units),
                            in_units(error.expected_words(), units));
    }
    return answer;
}

} // namespace tranche
