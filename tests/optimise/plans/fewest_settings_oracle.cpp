// The fewest thicknesses among plans of equal score, against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/fewest_settings.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"
#include "optimise/score_numbers.hpp"

namespace fewest_settings_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Thicknesses of the slabs of portions, to a nanometre; one at the sirloin face is that of the grid which it is nearest to.
std::size_t settings_of(const request& r, const small_request& all, const std::vector<small_request::laid>& slabs) {
    std::set<long long> distinct;
    const double h = r.meat.step().value(), extent = r.meat.extent().value();
    for (const auto& s : slabs) {
        if (!all.is_portion(s.option)) continue;
        const double kerf = all.spec(s.option).kerf.value();
        const double cells = s.to < all.cells() ? static_cast<double>(s.to - s.from)
                                                : std::round((extent + kerf) / h) - static_cast<double>(s.from);
        distinct.insert(std::llround((cells * h - kerf) * 1.6e7));
    }
    return distinct.size();
}

} // namespace

TEST_CASE("the fewest settings and the best plan with them equal those of all tilings") {
    std::size_t fewer = 0, costs = 0, met = 0, impossible = 0;
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 840'000);
        request r = few_tilings(d, 10.0, [&](request& it) { add_limits(d, it); });
        const few_settings unlinked = fewest_settings(r.meat, r.specs, r.rules);
        if (seed % 4 != 0) add_links(d, r);
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size() && seed % 3 == 0; ++i) {
            const auto low = static_cast<std::int64_t>(d.whole(0, 2));
            if (!d.once_in(3)) demands.push_back({.spec = i, .at_least = low, .at_most = low + 1});
        }
        const small_request all(r);
        using outcome = std::tuple<std::int64_t, std::int64_t, std::int64_t>; // portions, less settings, mass
        std::optional<outcome> best;
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            if (!all.go_together(slabs)) return;
            std::int64_t portions = 0, kept = 0;
            std::vector<std::int64_t> of_each(r.specs.size());
            for (const auto& s : slabs) {
                if (!all.is_portion(s.option)) continue;
                portions += all.spec(s.option).pieces;
                of_each[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
                kept += all.masses(s.option, s.from, s.to).weight();
            }
            for (const demand& wanted : demands) {
                const std::int64_t n = of_each[spec_of(wanted, r.specs)];
                if (n < wanted.at_least || n > wanted.at_most) return;
            }
            const outcome now{portions, -static_cast<std::int64_t>(settings_of(r, all, slabs)), kept};
            if (!best || *best < now) best = now;
        });
        const few_settings found = fewest_settings(r.meat, r.specs, r.rules, demands);
        CAPTURE(seed);
        CHECK(verify(found.planned.plan, r.meat, r.specs, r.rules).empty());
        if (!best) {
            CHECK(found.planned.stop == stop_reason::demand_impossible);
            ++impossible;
            continue;
        }
        met += !demands.empty() && found.planned.searched.states > 0;
        const auto [portions, less, kept] = *best;
        CHECK(values_of(found.planned) ==
              std::vector<double>{static_cast<double>(portions), static_cast<double>(kept)});
        CHECK(found.settings == static_cast<std::size_t>(-less));
        CHECK(found.at_least == found.settings);
        CHECK(found.planned.feasible() == (portions > 0));
        const planned most = most_portions(r.meat, r.specs, r.rules, demands);
        std::set<long long> distinct;
        for (const slab& s : most.plan.slabs)
            if (s.kind == slab_kind::portions) distinct.insert(std::llround(s.thickness.value() * 1.6e7));
        fewer += found.settings < distinct.size();
        costs += values_of(found.planned) < values_of(unlinked.planned) || found.settings > unlinked.settings;
    }
    CHECK(fewer > 30);
    CHECK(met > 20);
    CHECK(impossible > 10);
    CHECK(costs > 10); // an order or a common thickness
}

TEST_CASE(
    "demands that cannot be met or told apart leave a plan, how many settings it has, and how few there might be") {
    // Invented: six cuts of 8 to 16 mm, of which three to six each are asked for: 117,649 counts.
    const profile meat = tabulate(tapered_loin{.length = 40_cm,
                                               .rib = {.width = 18_cm, .depth = 8_cm},
                                               .sirloin = {.width = 13_cm, .depth = 6_cm}},
                                  1_mm);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i), .thickness = {thin, thin + 4_mm}});
        demands.push_back({.spec = i, .at_least = 3, .at_most = 6});
    }
    const few_settings many = fewest_settings(meat, specs, {}, demands);
    CHECK(many.planned.stop == stop_reason::gap_left);
    CHECK(many.at_least == 1);
    CHECK(many.settings > 1); // A and F have no thickness in common
    CHECK(verify(many.planned.plan, meat, specs, {}).empty());
    std::vector<int> counts(6);
    for (const slab& s : many.planned.plan.slabs)
        if (s.kind == slab_kind::portions) ++counts[s.option];
    for (const int n : counts) CHECK((n >= 3 && n <= 6));

    demands = {at_least(60, "cut F")};
    const few_settings none = fewest_settings(meat, specs, {}, demands);
    CHECK(none.planned.stop == stop_reason::demand_impossible);
    CHECK(none.planned.plan.portion_count() >= 30); // 13 mm each, as many as there are
    CHECK_FALSE(none.planned.why_not().empty());
}

TEST_CASE("a search that runs out of tilings says how few settings there might be") {
    // Invented: a loin that tapers, so that portions within narrow weights need many thicknesses.
    const profile meat = tabulate(tapered_loin{.length = 40_cm,
                                               .rib = {.width = 18_cm, .depth = 8_cm},
                                               .sirloin = {.width = 13_cm, .depth = 6_cm}},
                                  2_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 44_mm}, .portion = {270_g, 320_g}};
    const cutting_problem problem(meat, {steak}, {});
    const portion_count_objective count(problem);
    const portion_mass_objective kept(problem);
    const few_settings all = fewest_settings(problem, count, kept),
                       cut_short = fewest_settings(problem, count, kept, {.most_passes = 20});
    CHECK(all.planned.stop == stop_reason::optimal);
    CHECK(all.settings == all.at_least);
    CHECK(all.settings > 2);
    CHECK(cut_short.planned.stop == stop_reason::gap_left);
    CHECK_FALSE(cut_short.planned.proven_optimal());
    CHECK(cut_short.settings >= all.settings);
    CHECK(cut_short.at_least <= all.settings);
    CHECK(cut_short.planned.score_parts[0] == all.planned.score_parts[0]);
    CHECK(verify(all.planned.plan, meat, {steak}, {}).empty());

    const cut_spec one{.name = "one", .thickness = {20_mm, 44_mm}, .portion = {250_g, 330_g}, .one_thickness = true};
    const few_settings of_one = fewest_settings(meat, {one});
    CHECK(of_one.settings == 1);
    CHECK(of_one.planned.stop == stop_reason::optimal);
    CHECK(of_one.planned.plan.portion_count() == most_portions(meat, one).plan.portion_count());
}

} // namespace fewest_settings_oracle
