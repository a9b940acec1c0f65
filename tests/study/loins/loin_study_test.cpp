// Studies of loins: what each figure is, that mass and money close, what is the same for all ways to cut, and bad input.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cost/savings/make_or_buy.hpp>
#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/plan_worth.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/kinds/known_proportions.hpp>
#include <tranche/loin/models/typical_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/study/loins/loin_study.hpp>
#include <tranche/study/run/run_study.hpp>
#include <tranche/study/run/study_comparison.hpp>
#include <tranche/study/vary/known_variations.hpp>
#include <tranche/units/literals.hpp>

namespace loin_study_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

// Invented.
loin_task task(const cutting_hand& hand = {}) {
    const trim_spec trim{.fat_cover = 5_mm, .tail = 25_mm};
    return {
        .request = {.cuts = {{.name = "steak", .thickness = {22_mm, 34_mm}, .portion = {300_g, 360_g}, .trim = trim},
                             {.name = "vein steak",
                              .thickness = {22_mm, 40_mm},
                              .portion = {240_g, 400_g},
                              .trim = trim,
                              .gluteus_medius = any_gluteus_medius,
                              .kerf = 1_mm}},
                    .rules = {.facing = 8_mm}},
        .hand = hand,
        .purge = 0.01,
        .cooking_yield = 0.78};
}
loin_terms<usd> terms() {
    loin_terms<usd> all{.price = 18_usd / 1_kg, .ready = ready_cut<usd>{.name = "steaks", .price = 33_usd / 1_kg}};
    all.prices.portions["steak"] = {.by_weight = 34_usd / 1_kg};
    all.prices.portions["vein steak"] = {.by_weight = 22_usd / 1_kg};
    all.prices.by_products[destination::grind] = 9_usd / 1_kg;
    all.prices.by_products[destination::rendering] = 0.2_usd / 1_kg;
    all.costs.packaging = 0.2_usd;
    return all;
}
const profile& strip() {
    static const profile meat = calibrated_profile(typical_loin(5.4_kg, beef_strip_loin), 5.4_kg, {.step = 1_mm});
    return meat;
}
using figures = std::vector<std::int64_t>;
template <class Study>
std::pair<figures, std::optional<impossible_draw>> figures_of(const Study& study, std::uint64_t replicate,
                                                              decltype(study.workspace())& room) {
    figures out(loin_output_count, no_output);
    auto no = study(study_replicate(7, replicate), out, room);
    return {std::move(out), no};
}
std::int64_t of(const figures& all, loin_output what) { return all[static_cast<std::size_t>(what)]; }
std::uint64_t impossible(const study_result& result, impossible_loin why) {
    return result.impossible()[static_cast<std::size_t>(why)];
}

} // namespace

TEST_CASE("a steady hand on the typical loin gives what plan and bill say") {
    const loin_study study(strip(), {}, task(steady_hand), terms(), plan_for_each(most_portions()));
    auto room = study.workspace();
    const auto [out, no] = figures_of(study, 0, room);
    REQUIRE(!no);
    const loin_task asked = task();
    const planned best = plan(strip(), asked.request, most_portions());
    // What was on the board was a hundredth more when it was bought.
    const mass bought = to_mass(to_micrograms(to_mass(strip().total()) / 0.99));
    const loin_terms<usd> by = terms();
    const auto paid = settle<usd>(best.plan, {.weight = bought, .price = *by.price}, by.prices);
    const auto portions = static_cast<std::int64_t>(best.plan.portion_count());
    REQUIRE(portions > 5);
    CHECK(of(out, loin_output::portions) == portions);
    CHECK(of(out, loin_output::portions_within) == portions);
    CHECK(of(out, loin_output::share_within) == 1'000'000);
    // Cut places are read between positions here, and at them in the plan: tissue by tissue a microgram may go the other way.
    const mass_balance balance = balance_of(best.plan), cut = balance_of(room.cut());
    CHECK(std::abs((balance.portion_total() - cut.portion_total()).count) <= 5 * portions);
    CHECK(cut.total() == strip().total());
    CHECK(of(out, loin_output::yield) == Approx(1e6 * (to_mass(balance.portion_total()) / bought)).margin(1.0));
    CHECK(of(out, loin_output::cost_per_portion) ==
          Approx(static_cast<double>(paid.test.primary_value.minor) / static_cast<double>(portions)).margin(1.0));
    CHECK(
        of(out, loin_output::saving) ==
        Approx(make_or_buy<usd>(*by.ready, best.plan, paid, {.prices = by.prices, .costs = by.costs}).net_saving.minor)
            .margin(1.0));
    const double margin = worth_of<usd>(best.plan, by.prices).value() - (bought * *by.price).value() -
                          0.2 * static_cast<double>(portions);
    CHECK(of(out, loin_output::margin) == Approx(100.0 * margin).margin(1.0));
    CHECK(of(out, loin_output::cooked_portion) ==
          Approx(0.78 * static_cast<double>(of(out, loin_output::portion_weight))).margin(1.0));
    CHECK(of(out, loin_output::covers_short) == no_output);
}

TEST_CASE("mass closes however a loin is cut") {
    const loin_variation beef = variation_of(beef_strip_loin).with(purge_of_wet_aged_beef());
    const loin_task by_hand = task({.knife = {.bias = 1_mm, .spread = 2_mm}});
    const auto check = [](const auto& study, std::uint64_t loins) {
        auto room = study.workspace();
        std::uint64_t cut = 0;
        for (std::uint64_t i = 0; i < loins; ++i) {
            const auto [out, no] = figures_of(study, i, room);
            if (no) continue;
            ++cut;
            CHECK(balance_of(room.cut()).total() == room.loin().total());
            CHECK(room.cut().slabs.back().end() == room.loin().extent());
            CHECK(of(out, loin_output::portions_within) <= of(out, loin_output::portions));
            CHECK(of(out, loin_output::lightest_portion) <= of(out, loin_output::portion_weight));
            CHECK(of(out, loin_output::portion_weight) <= of(out, loin_output::heaviest_portion));
            for (const slab& s : room.cut().slabs) {
                if (s.kind != slab_kind::portions) continue;
                const mass portion = to_mass(s.weight());
                CHECK(room.cut().spec_of(s).portion.contains(portion));
            }
        }
        CHECK(4 * cut > 3 * loins);
    };
    check(loin_study(strip(), beef, by_hand, terms(), plan_for_each(most_portions())), 40);
    check(loin_study(strip(), beef, by_hand, terms(), plan_again_while_cutting(most_portions())), 20);
    const planned best = plan(strip(), by_hand.request, most_portions());
    check(loin_study(strip(), beef, by_hand, terms(), cut_by_one_plan(best.plan)), 40);
    loin_task demanding = by_hand;
    demanding.request.demands = {at_least(4, "vein steak")};
    check(loin_study(strip(), beef, demanding, terms(), plan_for_each(most_portions())), 6);
    check(loin_study(strip(), beef, by_hand, terms(), plan_for_each(even_portions(10))), 4);
}

TEST_CASE("studies of one seed have the same loins whatever else varies and however they are cut") {
    const loin_variation beef = variation_of(beef_strip_loin);
    const loin_study one(strip(), beef, task(), terms(), plan_for_each(most_portions()));
    const loin_study other(strip(), beef.with(varied::price, distribution::normal(1.0, 0.1)).with(purge_of_pork()),
                           task(steady_hand), terms(), plan_for_each(least_waste()));
    auto room = one.workspace();
    auto other_room = other.workspace();
    for (std::uint64_t i = 0; i < 20; ++i) {
        const bool no = figures_of(one, i, room).second.has_value();
        const bool other_no = figures_of(other, i, other_room).second.has_value();
        if (no || other_no) continue; // purge may make a loin impossible that was not
        CHECK(room.loin().extent() == other_room.loin().extent());
        CHECK(room.loin().fat_cover(100).thickness == other_room.loin().fat_cover(100).thickness);
    }
}

TEST_CASE("a study comes to the same bits with one thread and with two") {
    const loin_study study(strip(), variation_of(beef_strip_loin), task(), terms(), plan_for_each(most_portions()));
    const study_options options{.seed = 9, .replicates = 600};
    const study_result alone = run_study(study, options), together = run_study(study, options, threads(2));
    CHECK(alone == together);
    CHECK(alone.failed() == 0);
}

TEST_CASE("planning again while cutting makes up for a hand that cuts too thin") {
    const cutting_hand thin{.knife = {.bias = -2.5_mm, .spread = 0.5_mm}};
    const loin_variation none;
    const planned best = plan(strip(), task().request, most_portions());
    const study_options options{.replicates = 60};
    const auto within = [](const study_result& r) { return *r["portions within limits"].mean(); };
    const double blind =
        within(run_study(loin_study(strip(), none, task(thin), terms(), cut_by_one_plan(best.plan)), options));
    const double looking = within(
        run_study(loin_study(strip(), none, task(thin), terms(), plan_again_while_cutting(most_portions())), options));
    CHECK(looking > blind + 2.0);
}

TEST_CASE("too heavy portions are trimmed down, others outside of their limits are loose meat") {
    loin_task strict = task(steady_hand);
    const planned best = plan(strip(), strict.request, most_portions());
    strict.request.cuts[0].portion = {10_g, 200_g}; // all steaks are heavier
    strict.request.cuts[1].portion = {900_g, 1_kg}; // and all vein steaks lighter
    strict.charged = {{"steak", 150_g}, {"vein steak", 900_g}};
    const loin_study study(strip(), {}, strict, terms(), cut_by_one_plan(best.plan));
    auto room = study.workspace();
    const auto [out, no] = figures_of(study, 0, room);
    REQUIRE(!no);
    CHECK(of(out, loin_output::portions_within) == 0);
    CHECK(of(out, loin_output::portions) == static_cast<std::int64_t>(best.plan.portion_count()));
    std::int64_t steaks = 0;
    for (const slab& s : best.plan.slabs) steaks += s.kind == slab_kind::portions && s.option == 0 ? 1 : 0;
    CHECK(static_cast<std::int64_t>(room.cut().portion_count()) == steaks);
    CHECK(balance_of(room.cut()).portions[0] == to_micrograms(static_cast<double>(steaks) * 200_g));
    CHECK(of(out, loin_output::giveaway) == steaks * 50'000'000);
    CHECK(balance_of(room.cut()).total() == strip().total());
}

TEST_CASE("draws that cannot be are counted by their reason") {
    const auto run = [](const loin_variation& variation, loin_task asked = task()) {
        return run_study(loin_study(strip(), variation, std::move(asked), terms(), plan_for_each(most_portions())),
                         {.replicates = 50});
    };
    const auto sure = [](varied what, double value) {
        return loin_variation{.figures = {{what, distribution::certain(value)}}};
    };
    CHECK(impossible(run(sure(varied::depth, -0.1)), impossible_loin::depth) == 50);
    CHECK(impossible(run(sure(varied::loin_length, -1.0)), impossible_loin::loin_length) == 50);
    CHECK(impossible(run(sure(varied::fat_cover, -1.0)), impossible_loin::fat_cover) == 50);
    CHECK(impossible(run(sure(varied::tail, -1.0)), impossible_loin::tail) == 50);
    CHECK(impossible(run(sure(varied::width, 0.0)), impossible_loin::width) == 50);
    CHECK(impossible(run(sure(varied::fill, 0.0)), impossible_loin::fill) == 50);
    CHECK(impossible(run(sure(varied::weight, -5.0)), impossible_loin::weight) == 50);
    CHECK(impossible(run(sure(varied::weight, 9.0)), impossible_loin::width) == 50);
    CHECK(impossible(run(sure(varied::gluteus_medius_onset, 1.5)), impossible_loin::gluteus_medius_onset) == 50);
    CHECK(impossible(run(sure(varied::gluteus_medius_share, 5.0)), impossible_loin::gluteus_medius_share) == 50);
    const auto reason = [&](const loin_variation& variation, const std::string& words, loin_task asked = task()) {
        const study_result result = run(variation, std::move(asked));
        CHECK(result.failed() == 0);
        for (std::size_t i = 0; i < result.impossible().size(); ++i)
            if (result.impossible()[i] == 50) CHECK_THAT(result.outline().reasons[i], ContainsSubstring(words));
        CHECK(result["portions"].count() == 0);
    };
    reason(sure(varied::knife_spread, -1e-3), "knife spread");
    reason(sure(varied::purge, 1.0), "purge");
    reason(sure(varied::cooking_yield, 1.5), "cooking yield");
    reason(sure(varied::price, -1.0), "price");
    reason(sure(varied::covers, -5.0), "covers");
    reason(sure(varied::fat_left, -6e-3), "fat left");
    reason(sure(varied::knife_bias, -0.2), "in front of");
    reason(sure(varied::loin_length, 0.015), "do not fit"); // 6 mm, and the facing takes 8
    // Half of them: every replicate is either cut or has its reason.
    const study_result some = run({.figures = {{varied::depth, distribution::normal(0.0, 1.0)}}});
    CHECK(impossible(some, impossible_loin::depth) + some["portions"].count() == 50);
    CHECK(some["portions"].count() > 10);
}

TEST_CASE("trims, prices, cooking and guests vary too") {
    const auto run = [](varied what, double value) {
        loin_task asked = task(steady_hand);
        asked.covers = 15;
        const loin_variation one{.figures = {{what, distribution::certain(value)}}};
        return run_study(loin_study(strip(), one, asked, terms(), plan_for_each(most_portions())), {.replicates = 1});
    };
    const study_result plain = run(varied::price, 1.0);
    const double kilos = 5.4 / 0.99, portions = *plain["portions within limits"].mean();
    CHECK(*run(varied::price, 1.1)["margin"].mean() == Approx(*plain["margin"].mean() - 1.8 * kilos).margin(0.01));
    CHECK(*run(varied::price, 1.1)["cost per portion"].mean() ==
          Approx(*plain["cost per portion"].mean() + 1.8 * kilos / portions).margin(0.011));
    CHECK(*run(varied::ready_price, 1.1)["saving"].mean() > *plain["saving"].mean());
    CHECK(*run(varied::portion_prices, 1.1)["margin"].mean() > *plain["margin"].mean());
    CHECK(*run(varied::by_product_values, 0.5)["margin"].mean() < *plain["margin"].mean());
    CHECK(*run(varied::cooking_yield, 0.5)["cooked portion"].mean() ==
          Approx(0.5 * *plain["portion weight"].mean()).margin(1e-8));
    CHECK(*run(varied::fat_left, 2e-3)["portion weight"].mean() > *plain["portion weight"].mean());
    CHECK(*run(varied::covers, 20.4)["covers short"].mean() == Approx(20.0 - portions));
    CHECK(*plain["covers short"].mean() == std::max(0.0, 15.0 - portions));
    CHECK(*run(varied::purge, 0.05)["yield"].mean() < *plain["yield"].mean());
}

TEST_CASE("choices are compared on the same loins") {
    loin_task thick = task(), thin = task();
    thick.request.cuts[0].thickness = {30_mm, 36_mm};
    const loin_variation beef = variation_of(beef_strip_loin);
    using model = loin_study<usd, plan_for_each<decltype(most_portions())>>;
    const auto with = [&](const loin_task& asked) {
        return model(strip(), beef, asked, terms(), plan_for_each(most_portions()));
    };
    const study_comparison<model> both({{"thin", with(thin)}, {"thick", with(thick)}});
    const study_result result = run_study(both, {.replicates = 200});
    const exact_summary& difference = result[choice_difference("thick", "thin", "portions")];
    CHECK(*difference.mean() ==
          Approx(*result["thick: portions"].mean() - *result["thin: portions"].mean()).margin(1e-9));
    CHECK(result.failed() == 0);
}

TEST_CASE("what is no study is refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto make = [](const loin_task& asked, const loin_terms<usd>& by = terms(),
                         const loin_variation& varies = {}) {
        return loin_study(strip(), varies, asked, by, plan_for_each(most_portions()));
    };
    loin_task bad = task();
    bad.purge = 1.0;
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("purge"));
    bad = task();
    bad.cooking_yield = nan;
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("cooking_yield"));
    bad = task({.knife = {.spread = -1_mm}});
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("knife.spread"));
    bad = task({.knife = {.bias = nan * 1_mm}});
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("knife.bias"));
    bad = task();
    bad.request.cuts.clear();
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("specs"));
    bad = task();
    bad.request.cuts[0].thickness = {30_mm, 20_mm};
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("thickness"));
    bad = task();
    bad.request.rules.facing = 2_m;
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("facing"));
    bad = task();
    bad.charged["chop"] = 100_g;
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("chop"));
    bad = task();
    bad.request.demands = {at_least(2, "chop")};
    CHECK_THROWS_WITH(make(bad), ContainsSubstring("chop"));
    loin_terms<usd> dear = terms();
    dear.price = -1_usd / 1_kg;
    CHECK_THROWS_WITH(make(task(), dear), ContainsSubstring("price"));
    dear = terms();
    dear.prices.portions.erase("steak");
    CHECK_THROWS_WITH(make(task(), dear), ContainsSubstring("price of steak"));
    dear = terms();
    dear.ready->price = nan * 1_usd / 1_kg;
    CHECK_THROWS_WITH(make(task(), dear), ContainsSubstring("ready-cut price"));
    CHECK_THROWS_WITH(
        make(task(), terms(), {.figures = {factor_about_one(varied::tail, 0.1), factor_about_one(varied::tail, 0.1)}}),
        ContainsSubstring("tail twice"));
    CHECK_THROWS_WITH(loin_study(strip(), {}, task(), terms(), cut_by_one_plan{}), ContainsSubstring("no cuts"));
    cut_by_one_plan other;
    other.cuts.push_back({.kind = slab_kind::portions, .option = 7, .thickness = 25_mm, .end = 25_mm});
    CHECK_THROWS_WITH(loin_study(strip(), {}, task(), terms(), other), ContainsSubstring("cut 7"));
    const auto study = make(task());
    auto room = study.workspace();
    figures out(loin_output_count, no_output);
    CHECK_THROWS_WITH(study.evaluate(std::vector<double>{1.0}, study_replicate(1, 0), out, room),
                      ContainsSubstring("values"));
}

} // namespace loin_study_test
