// What the typical loins predict against what is published of meat, row by row of docs/checked_against_meat.md.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdio>
#include <string>
#include <vector>

#include <boost/math/special_functions/erf.hpp>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/trim.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "loin/docs_tables.hpp"

namespace published_populations_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// The page has to show just this, to so many digits behind the point, and what it was used for.
void check_row(const std::string& name, double published, double predicted, int digits, const std::string& used_for) {
    CAPTURE(name, published, predicted);
    const auto shown = [](double x, int places, const char* form) {
        char text[32];
        std::snprintf(text, sizeof text, form, places, x);
        return std::string(text);
    };
    const std::vector<std::string> row = docs_row("checked_against_meat.md", name);
    REQUIRE(row.size() >= 5);
    CHECK(row[1] == shown(published, digits, "%.*f"));
    CHECK(row[2] == shown(predicted, digits, "%.*f"));
    const double tenths = std::round(1000.0 * (predicted / published - 1.0)) + 0.0; // no zero with a minus
    CHECK(row[3] == shown(0.1 * tenths, 1, "%+.*f") + " %");
    CHECK(row[4] == used_for);
}

/// A steak of an inch is a whole number of these.
constexpr length step = 1.27_mm;

/// Mean weight of the steaks of a typical strip loin, and how many it gives.
struct steaks {
    double grams = 0.0;
    std::size_t count = 0;
};
steaks steaks_of(const profile& meat, const trim_spec& trim) {
    const auto planned =
        most_portions(meat, cut_spec{.name = "steak", .thickness = 1_in, .trim = trim}, {.facing = 6_mm});
    const std::size_t count = planned.plan.portion_count();
    return {to_mass(balance_of(planned.plan).portion_total()) / 1_g / static_cast<double>(count), count};
}

/// Normal quantiles at the middles of n equal parts, in an order that a stride without a common divisor shuffles.
double quantile(std::size_t i, std::size_t stride, std::size_t n) {
    const double p = (static_cast<double>(i * stride % n) + 0.5) / static_cast<double>(n);
    return std::sqrt(2.0) * boost::math::erf_inv(2.0 * p - 1.0);
}

} // namespace

TEST_CASE("checked against meat: eyes, steaks and vein ends of beef strip loins are as far off as the docs say") {
    const typical_loin loin(5.4_kg, beef_strip_loin);
    const profile meat = calibrated_profile(loin, 5.4_kg, {.step = step});
    // Mayer et al. 2025, Transl. Anim. Sci. 9:txaf097, mean of 4,418,768 carcasses (read in the source).
    check_row("eye of beef at the rib, cm²", 91.6, loin.face_at({}).areas[tissue::eye] / 1_cm2, 1, "checking");
    // US Department of Agriculture, Standard Reference 28, items 23388 and 23339, n 36 each (read in the source). That the steaks
    // are an inch thick is from memory; a lip of an inch is a choice of ours.
    const steaks lip_on = steaks_of(meat, {.fat_cover = 0.125_in, .tail = 1_in});
    const steaks lip_off = steaks_of(meat, {.fat_cover = 0_mm, .tail = 0_mm});
    check_row("1 in steak, lip on, 1/8 in fat, g", 302.0, lip_on.grams, 0, "choosing");
    check_row("1 in steak, lip off, no fat, g", 267.0, lip_off.grams, 0, "choosing");
    check_row("what of it lip and fat are, %", 100.0 * (1.0 - 267.0 / 302.0),
              100.0 * (1.0 - lip_off.grams / lip_on.grams), 1, "choosing");
    // Dashdorj et al. 2016, J. Anim. Sci. Technol. 58:20, table 1, wet-aged (read in the source): vein steaks over strip and vein
    // steaks, 14.0 of 68.6 %, 14.7 of 68.3 % and 12.7 of 64.9 % (computed).
    const std::size_t onset = meat.nearest(beef_strip_loin.gluteus_medius_onset.value * meat.extent());
    const auto steak_weight = [&](std::size_t from, std::size_t to) {
        double sum = 0.0;
        for (std::size_t i = from; i < to; ++i)
            for (const tissue t : all_tissues)
                sum += static_cast<double>(detail::kept_in_cell(meat, i, t, {.fat_cover = 0.25_in, .tail = 1_in}));
        return sum;
    };
    const double vein = 100.0 * steak_weight(onset, meat.cells()) / steak_weight(meat.nearest(6_mm), meat.cells());
    check_row("vein steaks, aged 14 days, %", 100.0 * 14.0 / 68.6, vein, 1, "choosing");
    check_row("vein steaks, aged 21 days, %", 100.0 * 14.7 / 68.3, vein, 1, "choosing");
    check_row("vein steaks, aged 28 days, %", 100.0 * 12.7 / 64.9, vein, 1, "choosing");
}

namespace {

/// What a strip loin of 5.4 kg predicts, if the second muscle sets in there, tails are so thick and steaks keep so much of them.
struct beef_prediction {
    double eye, lip_on, lip_off, vein; ///< cm², g, g, %

    beef_prediction(fraction onset, fraction tail_depth, length lip = 1_in) {
        loin_proportions kind = beef_strip_loin;
        kind.gluteus_medius_onset.value = onset;
        measured_loin loin = detail::scaled_readings(5.4_kg, kind);
        loin.shape.tail_depth = tail_depth;
        const double wider = 5.4_kg / detail::modelled_mass(loin, step, densities_at_4_celsius());
        for (station& s : loin.stations) {
            s.width *= wider;
            s.tail *= wider;
        }
        const profile meat = tabulate(loin, step);
        const auto kept = [&](std::size_t from, std::size_t to, const trim_spec& trim) {
            double sum = 0.0;
            for (std::size_t i = from; i < to; ++i)
                for (const tissue t : all_tissues)
                    sum += 1e-6 * static_cast<double>(detail::kept_in_cell(meat, i, t, trim));
            return sum;
        };
        const std::size_t facing = meat.nearest(6_mm), steaks = (meat.cells() - facing) / 20;
        const auto steak = [&](const trim_spec& trim) {
            return kept(facing, facing + 20 * steaks, trim) / static_cast<double>(steaks);
        };
        const trim_spec aged{.fat_cover = 0.25_in, .tail = 1_in};
        eye = loin.face_at({}).areas[tissue::eye] / 1_cm2;
        lip_on = steak({.fat_cover = 0.125_in, .tail = lip});
        lip_off = steak({.fat_cover = 0_mm, .tail = 0_mm});
        vein = 100.0 * kept(meat.nearest(onset * meat.extent()), meat.cells(), aged) / kept(facing, meat.cells(), aged);
    }

    /// Of the figures that choose, in quadratic mean; all of them, or all but the steak without lip.
    [[nodiscard]] double relative_error(bool with_lip_off = true) const {
        double sum = 0.0;
        int figures = 0;
        const auto add = [&](double published, double predicted) {
            sum += (predicted / published - 1.0) * (predicted / published - 1.0);
            ++figures;
        };
        add(302.0, lip_on);
        if (with_lip_off) add(267.0, lip_off);
        for (const double published : {100.0 * 14.0 / 68.6, 100.0 * 14.7 / 68.3, 100.0 * 12.7 / 64.9})
            add(published, vein);
        return std::sqrt(sum / figures);
    }
};

} // namespace

TEST_CASE("checked against meat: the onset of the second muscle is that of least error in the figures that choose") {
    double best = 0.0, least = 1.0;
    for (int hundredths = 72; hundredths <= 88; ++hundredths) {
        const double error = beef_prediction(0.01 * hundredths, face_shape{}.tail_depth).relative_error();
        if (error < least) least = error, best = 0.01 * hundredths;
    }
    CHECK(best == Approx(beef_strip_loin.gluteus_medius_onset.value));
}

TEST_CASE("checked against meat: a thinner tail fits the figures that choose better and those that check worse") {
    for (const double tail_depth : {0.1, 0.15, 0.2, 0.3, 0.4}) {
        const beef_prediction predicted(beef_strip_loin.gluteus_medius_onset.value, tail_depth);
        char depth[16], choosing[16], checking[16];
        std::snprintf(depth, sizeof depth, "%.2f", tail_depth);
        std::snprintf(choosing, sizeof choosing, "%.1f %%", 100.0 * predicted.relative_error());
        std::snprintf(checking, sizeof checking, "%+.1f %%", 100.0 * (predicted.eye / 91.6 - 1.0));
        const std::vector<std::string> row = docs_row("checked_against_meat.md", depth);
        REQUIRE(row.size() >= 3);
        CHECK(row[1] == choosing);
        CHECK(row[2] == checking);
    }
}

TEST_CASE("checked against meat: only the steak without lip says how thick tails are") {
    const auto best_depth = [](length lip, bool with_lip_off) {
        double best = 0.0, least = 1.0;
        for (int twentieths = 1; twentieths <= 12; ++twentieths) {
            const beef_prediction predicted(beef_strip_loin.gluteus_medius_onset.value, 0.05 * twentieths, lip);
            const double error = predicted.relative_error(with_lip_off);
            if (error < least) least = error, best = 0.05 * twentieths;
        }
        return best;
    };
    for (const length& lip : {0.5_in, 1_in, 2_in}) CHECK(best_depth(lip, true) == Approx(0.15));
    CHECK(best_depth(1_in, false) == Approx(0.1));
    CHECK(best_depth(1.5_in, false) > 0.5);
}

TEST_CASE("checked against meat: sizes, chops and yields of pork loins are as far off as the docs say") {
    // Wilson et al. 2016, J. Anim. Sci. 94:4903, n about 1,238 (read in the source). Lengths, depth and ends set the kind.
    const typical_loin loin(4.1_kg, boneless_pork_loin);
    const profile meat = calibrated_profile(loin, 4.1_kg, {.step = step});
    const station& middle = loin.readings().stations.at(1);
    check_row("pork loin as it lies, cm", 51.5, loin.extent() / 1_cm, 1, "taken over");
    check_row("depth of its lean, mm", 67.0, (middle.depth - middle.fat_cover) / 1_mm, 0, "taken over");
    const cut_spec chop{.name = "chop", .thickness = 1_in, .gluteus_medius = on_one_face};
    const auto chops = [&](const profile& of) { return most_portions(of, chop, {.facing = 1_cm}); };
    const planned best = chops(meat);
    check_row("1 in chops of a pork loin", 17.0, static_cast<double>(best.plan.portion_count()), 0, "checking");
    const double yield = 100.0 * (to_mass(balance_of(best.plan).portion_total()) / 4.1_kg);
    check_row("their share of it, %", 89.5, yield, 1, "checking");
    // The share of the variance of the count that the weight explains, and its spread: 41 loins at the quantiles of weight and
    // of length at one weight.
    constexpr std::size_t n = 41;
    double w = 0, c = 0, ww = 0, cc = 0, wc = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const mass weighed = 4.1_kg * std::exp(0.15 * quantile(i, 1, n));
        const auto kind = detail::deviating(boneless_pork_loin, {.length = quantile(i, 7, n)});
        const auto count = static_cast<double>(
            chops(calibrated_profile(typical_loin(weighed, kind), weighed, {.step = step})).plan.portion_count());
        const double kilograms = weighed / 1_kg;
        w += kilograms, c += count, ww += kilograms * kilograms, cc += count * count, wc += kilograms * count;
    }
    const double of_w = ww - w * w / n, of_c = cc - c * c / n, of_both = wc - w * c / n;
    check_row("mean number of chops", 17.0, c / n, 1, "checking");
    check_row("their standard deviation", 1.33, std::sqrt(of_c / (n - 1)), 2, "checking");
    check_row("what of it the weight explains (R²)", 0.336, of_both * of_both / (of_w * of_c), 3, "checking");
}

} // namespace published_populations_test
