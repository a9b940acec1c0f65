// Portions under a knife that is not exact: against tables of the normal distribution, integrals and simulated cuts.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include <boost/math/distributions/normal.hpp>

#include <tranche/cut/verify.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/robust_plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/instances.hpp"

namespace robust_plans_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Quantiles of the standard normal distribution, as standard tables have them.
constexpr double z_975 = 1.95996398454, z_95 = 1.64485362695, z_99 = 2.32634787404;

// Invented: 80 % of 16 × 7 cm is 89.6 cm² of lean, 94.83 g of it a centimetre.
profile prism() { return tabulate(prism_loin{.length = 20_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm); }
const mass a_millimetre = to_mass(prism().total()) / 200.0;

/// The chances of the one slab of 30 mm from 50 to 80 mm.
portion_chances of_30_mm(const cut_spec& spec, const knife_spread& knife) {
    const profile meat = prism();
    const cutting_plan cuts = lay_out(meat, {spec}, {}, {{0, 50}, {50, 80, slab_kind::portions, 0}, {80, 200}});
    return chances_of(cuts, meat, knife)[1];
}

/// Invented: a loin that changes, with a second muscle.
profile changing_loin() {
    return tabulate(
        measured_loin{.length = 40_cm,
                      .stations = {{0_cm, 20_cm, 7.8_cm, 1.0_cm, 4_cm}, {40_cm, 17_cm, 7.2_cm, 0.6_cm, 2_cm}},
                      .gluteus_medius = {.onset = 28_cm, .share_at_end = 0.4}},
        0.5_mm);
}
const std::vector<cut_spec> steaks{{.name = "steak",
                                    .thickness = {22_mm, 40_mm},
                                    .portion = {330_g, 370_g},
                                    .trim = {.fat_cover = 6_mm, .tail = 25_mm},
                                    .gluteus_medius = gluteus_medius_up_to(0.2),
                                    .kerf = 0.4_mm}};

price_list<usd> steak_prices() {
    price_list<usd> prices{.portions = {{"steak", {.by_weight = 36_usd / 1_kg, .each = 0.4_usd}}}};
    prices.by_products[destination::grind] = 9_usd / 1_kg;
    return prices;
}

/// The score of a plan under an objective.
template <class O>
std::int64_t score_of(const cutting_plan& cuts, const cutting_problem& problem, const O& objective) {
    std::int64_t sum = 0;
    for (const slab& s : cuts.slabs) {
        if (s.kind == slab_kind::facing) continue;
        const std::size_t option = s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0);
        sum += slab_score(objective, option, problem.meat().nearest(s.start), problem.meat().nearest(s.end()));
    }
    return sum;
}

} // namespace

TEST_CASE("limits of thickness are kept as often as the normal distribution says") {
    // A limit is read to half a grain of 1/16 um, which is 3.2e-5 of the spread and moves a chance by less than 0.4 of that at
    // each of two limits.
    for (const auto& [z, chance] : {std::pair{z_975, 0.95}, {z_95, 0.90}, {z_99, 0.98}}) {
        const cut_spec spec{.name = "steak", .thickness = {(30.0 - z) * millimetre, (30.0 + z) * millimetre}};
        const portion_chances c = of_30_mm(spec, {.spread = 1_mm});
        CHECK_THAT(c.within, WithinAbs(chance, 2.6e-5));
        CHECK_THAT(c.other_limit, WithinAbs(1.0 - chance, 2.6e-5));
        CHECK(c.too_heavy + c.too_light < 1e-9); // any weight will do, and none is below zero
        CHECK(of_30_mm(spec, {.spread = 1_mm, .judge_thickness = false}).within == 1.0);
    }
}

TEST_CASE("limits of weight are kept as often as the normal distribution says") {
    // Masses of a millimetre are rounded to a microgram of 9.5 g, and a limit to half of one: 1e-6 is ample.
    const quantity_range<length> any{10_mm, 100_mm};
    for (const double spread : {0.5, 1.5}) {
        const mass off = z_975 * spread * a_millimetre;
        const cut_spec both{
            .name = "steak", .thickness = any, .portion = {30.0 * a_millimetre - off, 30.0 * a_millimetre + off}};
        CHECK_THAT(of_30_mm(both, {.spread = spread * millimetre}).within, WithinAbs(0.95, 1e-6));
        CHECK_THAT(of_30_mm(both, {.spread = spread * millimetre}).too_heavy, WithinAbs(0.025, 1e-6));
        cut_spec most = both;
        most.portion = {mass{}, 30.0 * a_millimetre + z_95 * spread * a_millimetre};
        CHECK_THAT(of_30_mm(most, {.spread = spread * millimetre}).too_heavy, WithinAbs(0.05, 1e-6));
        // A bias moves the mean: half are too heavy if it takes the mean to the limit.
        const knife_spread biased{.bias = z_95 * spread * millimetre, .spread = spread * millimetre};
        CHECK_THAT(of_30_mm(most, biased).too_heavy, WithinAbs(0.5, 1e-6));
    }
}

TEST_CASE("a second muscle that a thick slice would show counts as a limit") {
    const profile meat = tabulate(measured_loin{.length = 40_cm,
                                                .stations = {{0_cm, 16_cm, 7_cm}, {40_cm, 16_cm, 7_cm}},
                                                .gluteus_medius = {.onset = 30_cm, .share_at_end = 0.4}},
                                  1_mm);
    const double at_31_cm = meat.gluteus_medius_entered()[310];
    const cut_spec spec{
        .name = "steak", .thickness = {10_mm, 100_mm}, .gluteus_medius = gluteus_medius_up_to(at_31_cm)};
    const cutting_plan cuts = lay_out(meat, {spec}, {}, {{0, 280}, {280, 308, slab_kind::portions, 0}, {308, 400}});
    // The share is that of 31 cm, 2 mm behind the cut: a spread of 2 mm goes beyond by chance 1 - Φ(1).
    const double beyond = boost::math::cdf(boost::math::complement(boost::math::normal(), 1.0));
    const portion_chances c = chances_of(cuts, meat, {.spread = 2_mm})[1];
    CHECK_THAT(c.other_limit, WithinAbs(beyond, 1e-6));
    CHECK_THAT(c.within, WithinAbs(1.0 - beyond, 1e-6));
}

TEST_CASE("a slab at the sirloin face gets what the cut in front of it errs by") {
    const profile meat = prism();
    const cut_spec spec{.name = "steak", .thickness = {(30.0 - z_95) * millimetre, 100_mm}};
    const cutting_plan cuts = lay_out(meat, {spec}, {}, {{0, 170}, {170, 200, slab_kind::portions, 0}});
    // One limit, read to half a grain of 1/16 um: 3.2e-5 of the spread, times 0.4.
    CHECK_THAT(chances_of(cuts, meat, {.spread = 1_mm})[1].within, WithinAbs(0.95, 1.3e-5));
    // A hand that cuts too thick leaves less for the last slab.
    CHECK_THAT(chances_of(cuts, meat, {.bias = z_95 * millimetre, .spread = 1_mm})[1].within, WithinAbs(0.5, 1.3e-5));
    CHECK(chances_of(cuts, meat, {.spread = 1_mm})[0].within == 0.0); // not portions
    const cut_spec whole{.name = "whole", .thickness = 200_mm};
    CHECK(chances_of(lay_out(meat, {whole}, {}, {{0, 200, slab_kind::portions, 0}}), meat, {})[0].within == 1.0);
}

TEST_CASE("the worth on average is the integral of the worth over all errors") {
    const profile meat = prism();
    const price_list<usd> prices = steak_prices();
    dice d(840'001);
    for (int round = 0; round < 20; ++round) {
        const double middle = d.between(250.0, 320.0);
        const cut_spec spec{.name = "steak",
                            .thickness = {d.between(20.0, 27.0) * millimetre, d.between(33.0, 40.0) * millimetre},
                            .portion = {(middle - d.between(5.0, 30.0)) * gram, (middle + d.between(5.0, 30.0)) * gram},
                            .pieces = 1};
        const knife_spread knife{.bias = d.between(-1.0, 1.0) * millimetre, .spread = d.between(0.5, 3.0) * millimetre};
        const cutting_problem problem(meat, {spec}, {});
        const expected_value_objective<usd> objective(problem, prices, knife);
        const double rate = a_millimetre.value();
        const auto worth = [&](double e) { // of a slab of 30 + e millimetres
            const double kilograms = (30.0 + e) * rate, most = spec.portion.max.value();
            const bool thick = spec.thickness.contains((30.0 + e) * millimetre);
            if (!thick || kilograms < spec.portion.min.value()) return 9.0 * kilograms;
            return 0.4 + 36.0 * std::min(kilograms, most) + 9.0 * std::max(kilograms - most, 0.0);
        };
        // The trapezium rule over ±8 spreads; the worth jumps, which costs it half an interval times the jump, some 10
        // USD, times the density: 16/40000 / 2 × 10 × 0.4 for each of at most four jumps.
        const double bias = knife.bias / millimetre, spread = knife.spread / millimetre;
        constexpr int intervals = 40'000;
        double sum = 0.0;
        for (int i = 0; i <= intervals; ++i) {
            const double z = -8.0 + 16.0 * i / intervals;
            sum += std::exp(-0.5 * z * z) * 0.3989422804014327 * worth(bias + spread * z);
        }
        sum *= 16.0 / intervals;
        CAPTURE(round);
        CHECK_THAT(expected_value_objective<usd>::worth(objective.slab(1, 50, 80)).value(), WithinAbs(sum, 0.004));
        const double loose = to_mass(meat.between(80, 200)).value() * 9.0;
        CHECK_THAT(expected_value_objective<usd>::worth(objective.slab(0, 80, 200)).value(), WithinAbs(loose, 1e-7));
    }
}

TEST_CASE("chances are those of simulated cuts") {
    const profile meat = changing_loin();
    const knife_spread knife{.bias = 0.3_mm, .spread = 1.2_mm};
    const cut_spec& spec = steaks.front();
    const planned robust = most_expected_portions(meat, {steaks, {.facing = 8_mm}}, knife);
    const std::vector<portion_chances> chances = chances_of(robust.plan, meat, knife);
    REQUIRE(robust.feasible());
    CHECK(verify(robust.plan, meat, steaks, {.facing = 8_mm}) == std::vector<std::string>{});
    const yield_table kept(meat, spec.trim);

    // First order leaves out λ' e²/2 of a weight. In terms of e that moves a limit at z spreads by λ'/λ (z spread)²/2,
    // and the chance by φ(z) times that over the spread: at most 0.147 spread λ'/λ (at z = √2), for each of two
    // limits; the bias adds its share of z. Of the changes of λ, the trimmed mass per length, the largest counts.
    double steepest = 0.0;
    for (std::size_t i = 20; i < meat.cells(); ++i) {
        const auto per_length = [&](std::size_t from) {
            return static_cast<double>(kept.kept()[from] - kept.kept()[from - 10]);
        };
        steepest = std::max(steepest, std::abs(per_length(i) / per_length(i - 10) - 1.0) / 0.005);
    }
    const double first_order = 2.0 * 0.147 * 1.5 * 1.5 * knife.spread.value() * steepest;
    CHECK(first_order < 0.01);

    std::mt19937_64 bits(20'240'901); // its raw draws are fixed by the standard
    const boost::math::normal normal(knife.bias.value(), knife.spread.value());
    constexpr int draws = 4000;
    std::size_t compared = 0;
    for (std::size_t i = 0; i < robust.plan.slabs.size(); ++i) {
        const slab& s = robust.plan.slabs[i];
        if (s.kind != slab_kind::portions || s.end() >= meat.extent()) continue;
        int within = 0, light = 0, heavy = 0;
        for (int draw = 0; draw < draws; ++draw) {
            const double uniform = (static_cast<double>(bits() >> 11U) + 0.5) * 0x1p-53;
            const length thick = s.thickness + boost::math::quantile(normal, uniform) * metre;
            const mass weight = to_mass({kept.kept_before(detail::profile_place::of(meat, s.start + thick)) -
                                         kept.kept_before(detail::profile_place::of(meat, s.start))});
            const detail::profile_place face = detail::profile_place::of(meat, s.start + thick + s.kerf);
            const auto share = meat.gluteus_medius_entered();
            const double shown_share = share[face.cell] + face.into * (share[face.cell + 1] - share[face.cell]);
            light += weight < spec.portion.min;
            heavy += weight > spec.portion.max;
            within += spec.portion.contains(weight) && spec.thickness.contains(thick) &&
                      shown_share <= spec.gluteus_medius.towards_sirloin;
        }
        // Four standard deviations of a frequency, and a draw for the chances near 0 and 1.
        const auto check = [&](int count, double chance) {
            const double sd = std::sqrt(chance * (1.0 - chance) / draws);
            CHECK_THAT(static_cast<double>(count) / draws, WithinAbs(chance, 4.0 * sd + first_order + 1.0 / draws));
        };
        CAPTURE(i);
        check(within, chances[i].within);
        check(light, chances[i].too_light);
        check(heavy, chances[i].too_heavy);
        ++compared;
    }
    CHECK(compared >= 8);
}

TEST_CASE("no plan that ignores the knife does better on average") {
    std::size_t better = 0, worth_more = 0;
    for (std::uint64_t seed = 0; seed < rounds(80); ++seed) {
        dice d(seed + 841'000);
        const length step = detail::snapped(d.between(2.0, 6.0) * millimetre);
        request r{random_profile(d, d.whole(20, 50), step), {}, {}};
        const std::size_t specs = d.whole(1, 2);
        for (std::size_t i = 0; i < specs; ++i)
            r.specs.push_back(random_spec(d, r.meat, std::string("cut ") + static_cast<char>('A' + i), 3.0, 9.0));
        r.rules = random_rules(d, r.meat, 6.0);
        const knife_spread knife{.spread = d.between(0.1, 1.5) * step, .judge_thickness = d.once_in(2)};
        const price_list<usd> prices = random_prices(d, r.specs);
        CAPTURE(seed);

        const planned blind = most_portions(r.meat, r.specs, r.rules);
        const planned robust = most_expected_portions(r.meat, {r.specs, r.rules}, knife);
        const std::vector<portion_chances> chances = chances_of(robust.plan, r.meat, knife);
        const double by_blind = expected_portions(blind.plan, chances_of(blind.plan, r.meat, knife));
        const double by_robust = expected_portions(robust.plan, chances);
        // Scores are rounded to billionths of a portion, slab by slab.
        const double rounding = 1e-9 * static_cast<double>(robust.plan.slabs.size() + blind.plan.slabs.size());
        CHECK_THAT(robust.score() / 1e9, WithinAbs(by_robust, rounding));
        CHECK(by_robust >= by_blind - rounding);
        better += by_robust > by_blind + 0.01;
        CHECK(verify(robust.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        for (const portion_chances& c : chances) {
            const double sum = c.within + c.too_light + c.too_heavy + c.other_limit;
            CHECK((sum == 0.0 || std::abs(sum - 1.0) < 1e-12));
        }

        const cutting_problem problem(r.meat, r.specs, r.rules);
        const expected_value_objective<usd> objective(problem, prices, knife);
        const cutting_plan at_list = best_value(r.meat, r.specs, prices, r.rules).plan;
        const planned dearest = best_expected_value(r.meat, {r.specs, r.rules}, prices, knife);
        CHECK(dearest.score() == static_cast<double>(score_of(dearest.plan, problem, objective)));
        CHECK(dearest.score() >= static_cast<double>(score_of(at_list, problem, objective)));
        worth_more += dearest.score() > static_cast<double>(score_of(at_list, problem, objective));
    }
    CHECK(better > 5);
    CHECK(worth_more > 5);
}

TEST_CASE("an exact knife changes nothing") {
    const profile meat = changing_loin();
    const knife_spread exact{.spread = 0_mm};
    const planned robust = most_expected_portions(meat, {steaks}, exact);
    const std::vector<portion_chances> chances = chances_of(robust.plan, meat, exact);
    CHECK(robust.plan.portion_count() == most_portions(meat, steaks).plan.portion_count());
    for (std::size_t i = 0; i < chances.size(); ++i)
        if (robust.plan.slabs[i].kind == slab_kind::portions) CHECK(chances[i].within == 1.0);
    const price_list<usd> prices = steak_prices();
    const planned plain = best_value(meat, steaks, prices);
    // Each slab is rounded to a billionth in both.
    CHECK_THAT(best_expected_value(meat, {steaks}, prices, exact).score(), WithinAbs(plain.score(), 50.0));
}

TEST_CASE("a knife that is impossible is refused") {
    const profile meat = prism();
    CHECK_THROWS_AS(most_expected_portions(meat, {steaks}, {.spread = -1.0_mm}), invalid_input);
    CHECK_THROWS_AS(most_expected_portions(meat, {steaks}, {.bias = std::nan("") * metre}), invalid_input);
    CHECK_THROWS_AS(best_expected_value(meat, {steaks}, price_list<usd>{}, {}), invalid_input);
}

} // namespace robust_plans_test
