// Loins that are boxes: mean and variance of every figure of a study against closed forms. All formulas and figures are computed; the
// scenario is invented.
// SPDX-License-Identifier: BSL-1.0
#include <cmath>
#include <cstdint>
#include <functional>
#include <string>

#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace loin_study_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// A box of lean: 500 mm long, of 4 kg. Twelve slices of 25 mm are cut from the rib end, what is left is ground.
constexpr double kilos = 4.0, extent = 0.5, slice = 0.025, slices = 12.0;
constexpr double taken = slices * slice / extent; // of a loin of that length
// Lengths are lognormal of mean 1 and 3 %, weights normal of 4 kg and 5 %, independent of each other: so a width a quarter less or a
// third more than the typical one, which is no such loin, comes once in ten thousand.
constexpr double length_spread = 0.03, weight_spread = 0.2;

profile box() {
    return calibrated_profile(
        prism_loin{.length = 500_mm, .face = {.width = 160_mm, .depth = 50_mm}, .shape = {.fill = 1.0}}, 4_kg);
}
loin_task task(const cutting_hand& hand = steady_hand, quantity_range<length> thickness = {24_mm, 26_mm}) {
    return {.request = {.cuts = {{.name = "slice", .thickness = thickness, .portion = {50_g, 1_kg}}}},
            .hand = hand,
            .purge = 0.02,
            .cooking_yield = 0.75,
            .charged = {{"slice", 60_g}},
            .covers = 14};
}
loin_terms<usd> terms() {
    loin_terms<usd> all{.price = 8_usd / 1_kg, .ready = ready_cut<usd>{.name = "slices", .price = 15_usd / 1_kg}};
    all.prices.portions["slice"] = {.each = 3_usd};
    all.prices.by_products[destination::grind] = 5_usd / 1_kg;
    all.costs = {.packaging = 0.1_usd, .knife_wear = 0.5_usd};
    return all;
}
/// Twelve slices and the rest.
cut_by_one_plan twelve() {
    cut_by_one_plan way;
    for (int i = 1; i <= 12; ++i)
        way.cuts.push_back({.kind = slab_kind::portions, .option = 0, .thickness = 25_mm, .end = i * 25_mm});
    way.cuts.push_back({.kind = slab_kind::loose, .option = 0, .thickness = 200_mm, .end = 500_mm});
    return way;
}
loin_variation sizes() {
    return {.figures = {weight_about(4_kg, 0.2_kg), {varied::loin_length, distribution::lognormal(1.0, length_spread)}},
            .way = gives_way::width};
}

struct moments {
    double mean, variance;
};
/// Moments of a W + b W / Λ + c with W the weight bought and Λ the factor of the length. For a lognormal Λ of mean 1 with
/// 1 + v = 1 + cv²: E(1/Λ) = 1 + v, E(1/Λ²) = (1 + v)³.
moments of(double a, double b, double c) {
    const double q = 1.0 + length_spread * length_spread, w = kilos, ww = kilos * kilos + weight_spread * weight_spread;
    const double mean = a * w + b * w * q;
    const double square = ww * (a * a + 2.0 * a * b * q + b * b * q * q * q);
    return {mean + c, square - mean * mean};
}

/// The mean within 4.5 standard errors, one case in 150,000; the variance within six of a normal variable's, √(2/n), for those here
/// have tails a little heavier; both and what is rounded to a whole number, whose variance is unit²/12 and less.
void check(const study_result& result, loin_output what, const moments& closed) {
    const exact_summary& found = result[name_of(what)];
    INFO(name_of(what));
    const auto n = static_cast<double>(found.count());
    const double unit = found.output().unit, spread = std::sqrt(closed.variance);
    REQUIRE(n > 0);
    CHECK(std::abs(*found.mean() - closed.mean) <= 4.5 * spread / std::sqrt(n) + 0.5 * unit);
    CHECK(std::abs(*found.variance() - closed.variance) <=
          6.0 * std::sqrt(2.0 / n) * closed.variance + unit * unit / 6.0);
}

double below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

} // namespace

TEST_CASE("figures of boxes that are cut alike have the means and variances of their closed forms") {
    const loin_study study(box(), sizes(), task(), terms(), twelve());
    const study_result result = run_study(study, {.seed = 16, .replicates = 6'000});
    CHECK(result.failed() == 0);
    for (const auto count : result.impossible()) CHECK(count < 5);
    const double board = 0.98; // of what was bought
    check(result, loin_output::portions, {12.0, 0.0});
    check(result, loin_output::portions_within, {12.0, 0.0});
    check(result, loin_output::share_within, {1.0, 0.0});
    const double one = board * slice / extent;
    check(result, loin_output::portion_weight, of(0.0, one, 0.0));
    check(result, loin_output::lightest_portion, of(0.0, one, 0.0));
    check(result, loin_output::heaviest_portion, of(0.0, one, 0.0));
    check(result, loin_output::cooked_portion, of(0.0, 0.75 * one, 0.0));
    check(result, loin_output::giveaway, of(0.0, board * taken, -slices * 0.06));
    // Paid p W, credit g (board W - portions), portions of board W taken / Λ.
    const double p = 8.0, g = 5.0, r = 15.0;
    check(result, loin_output::cost_per_portion, of((p - g * board) / slices, g * board * taken / slices, 0.0));
    const double costs = slices * 0.1 + 0.5;
    check(result, loin_output::saving, of(g * board - p, (r - g) * board * taken, -costs));
    check(result, loin_output::margin, of(g * board - p, -g * board * taken, slices * 3.0 - costs));
    check(result, loin_output::covers_short, {2.0, 0.0});
    // The yield does not know the weight: board taken / Λ.
    const double q = 1.0 + length_spread * length_spread, y = board * taken;
    check(result, loin_output::yield, {y * q, y * y * (q * q * q - q * q)});
}

TEST_CASE("the hand's errors add up slice by slice, and do not along marks") {
    const loin_variation nothing;
    for (const hand_follows follows : {hand_follows::thickness, hand_follows::marks}) {
        INFO(name_of(follows));
        const double spread = 0.4e-3, per_metre = 0.98 * kilos / extent; // 1.96 kg/m in the loin on the board
        const cutting_hand hand{.knife = {.spread = 0.4_mm}, .follows = follows};
        const profile meat = [] {
            prism_loin loin{.length = 500_mm, .face = {.width = 160_mm, .depth = 50_mm}, .shape = {.fill = 1.0}};
            return calibrated_profile(loin, 3.92_kg); // what is on the board where no weight varies
        }();
        const loin_study any(meat, nothing, task(hand, {15_mm, 35_mm}), terms(), twelve());
        const study_result result = run_study(any, {.seed = 3, .replicates = 6'000});
        // Thickness after thickness the sum of twelve errors has the variance 12 s²; along marks it is the last error alone.
        const double sum = (follows == hand_follows::thickness ? slices : 1.0) * spread * spread;
        const double mean = per_metre * slice;
        check(result, loin_output::portion_weight, {mean, per_metre * per_metre * sum / (slices * slices)});
        check(result, loin_output::yield,
              {slices * per_metre * slice / kilos, per_metre * per_metre * sum / (kilos * kilos)});
        // Within 24 to 26 mm: |e| <= 1 mm; along marks the error of a slice is the difference of two, but for the first.
        const double alone = 2.0 * below(1.0e-3 / spread) - 1.0,
                     of_two = 2.0 * below(1.0e-3 / (std::sqrt(2.0) * spread)) - 1.0;
        const double share = follows == hand_follows::thickness ? alone : (alone + 11.0 * of_two) / 12.0;
        const loin_study judged(meat, nothing, task(hand), terms(), twelve());
        const study_result strict = run_study(judged, {.seed = 3, .replicates = 6'000});
        const exact_summary& within = strict["share within limits"];
        // Neighbours along marks share an error: no more than three times the variance of slices by themselves.
        CHECK(std::abs(*within.mean() - share) <=
              4.5 * std::sqrt(3.0 * share * (1.0 - share) / (slices * static_cast<double>(within.count()))));
    }
}

TEST_CASE("with a plan for each, boxes give as many slices as fit") {
    const loin_variation lengths{.figures = {{varied::loin_length, distribution::normal(1.0, length_spread)}}};
    const loin_study study(box(), lengths, task(), terms(), plan_for_each(most_portions()));
    const study_result result = run_study(study, {.seed = 5, .replicates = 4'000});
    // n slices of 24 mm or more fit if the loin is n × 24 mm long: E n = Σ P(L >= 24 k), E n² = Σ (2k - 1) P(L >= 24 k).
    double mean = 0.0, square = 0.0;
    for (int k = 1; k < 60; ++k) {
        const double longer = below((1.0 - k * 0.024 / extent) / length_spread);
        mean += longer;
        square += (2.0 * k - 1.0) * longer;
    }
    check(result, loin_output::portions, {mean, square - mean * mean});
    CHECK(*result["share within limits"].least() == 1.0);
}

TEST_CASE("as many portions keep their limits as normal theory expects") {
    // `chances_of` knows nothing of studies. A slab between two marks errs at both ends: √2 times the spread, but for the first,
    // which starts at the rib face.
    const profile meat = box();
    loin_task of_hand = task({.knife = {.spread = 0.8_mm}, .follows = hand_follows::marks});
    of_hand.request.rules.facing = 10_mm;
    of_hand.request.cuts.front().portion = {190_g, 205_g};
    const planned plan = most_portions(meat, of_hand.request.cuts, of_hand.request.rules);
    const loin_study study(meat, {}, of_hand, loin_terms<usd>{}, cut_by_one_plan(plan.plan));
    const study_result result = run_study(study, {.seed = 2, .replicates = 4'000});
    const auto chances = chances_of(plan.plan, meat, {.spread = std::sqrt(2.0) * 0.8_mm});
    // The last slab ends at the sirloin face: it errs at its front alone, which costs `chances_of` √2 there.
    const double expected = expected_portions(plan.plan, chances);
    CHECK(*result["portions within limits"].mean() == Approx(expected).margin(0.35));
    CHECK(*result["portions"].mean() == static_cast<double>(plan.plan.portion_count()));
    CHECK(result["saving"].count() == 0);
    CHECK(result["margin"].count() == 0);
    CHECK(result["cost per portion"].count() == 0);
}

} // namespace loin_study_oracle
