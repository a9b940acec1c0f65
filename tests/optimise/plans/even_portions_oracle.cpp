// The most equal portions against every tiling of small loins, and on loins where the answer is known.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/polish_even.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace even_portions_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct spread_and_mass {
    std::int64_t spread, heaviest, kept;
    [[nodiscard]] bool better_than(const spread_and_mass& o) const {
        if (spread != o.spread) return spread < o.spread;
        if (heaviest != o.heaviest) return heaviest > o.heaviest;
        return kept > o.kept;
    }
};

/// By number of portions: the best of all tilings.
std::map<std::int64_t, spread_and_mass> evenest(const small_request& all) {
    std::map<std::int64_t, spread_and_mass> best;
    const std::function<void(std::size_t, std::int64_t, std::int64_t, std::int64_t, std::int64_t)> lay =
        [&](std::size_t from, std::int64_t count, std::int64_t light, std::int64_t heavy, std::int64_t kept) {
            if (from == all.cells()) {
                if (count == 0) return;
                const spread_and_mass now{heavy - light, heavy, kept};
                const auto [at, first] = best.emplace(count, now);
                if (!first && now.better_than(at->second)) at->second = now;
                return;
            }
            for (std::size_t to = from + 1; to <= all.cells(); ++to)
                for (std::size_t o = 0; o < all.options(); ++o) {
                    if (!all.allowed(o, from, to)) continue;
                    if (!all.is_portion(o)) {
                        lay(to, count, light, heavy, kept);
                        continue;
                    }
                    const std::int64_t n = all.spec(o).pieces, w = all.masses(o, from, to).weight();
                    lay(to, count + n, std::min(light, w / n), std::max(heavy, (w + n - 1) / n), kept + w);
                }
        };
    lay(all.start(), 0, std::numeric_limits<std::int64_t>::max(), 0, 0);
    return best;
}

spread_and_mass measured(const cutting_plan& p) {
    std::int64_t light = std::numeric_limits<std::int64_t>::max(), heavy = 0;
    for (const slab& s : p.slabs)
        for (const micrograms m : p.portions_of(s)) {
            light = std::min(light, m.count);
            heavy = std::max(heavy, m.count);
        }
    return {heavy - light, heavy, balance_of(p).portion_total().count};
}

/// Whether a plan of `n` portions is as good as the best of all tilings.
void check_is_best(const planned& planned, std::int64_t n, const spread_and_mass& expected) {
    REQUIRE(planned.feasible());
    const spread_and_mass found = measured(planned.plan);
    CHECK(planned.plan.portion_count() == static_cast<std::size_t>(n));
    CHECK(found.spread == expected.spread);
    CHECK(found.heaviest == expected.heaviest);
    CHECK(found.kept == expected.kept);
    CHECK(planned.score() == -static_cast<double>(expected.spread));
}

} // namespace

TEST_CASE("even portions are the most equal of all tilings, for any number of them") {
    std::size_t uneven = 0, fewer = 0, none = 0;
    for (std::uint64_t seed = 0; seed < rounds(300, many_instances); ++seed) {
        dice d(seed + 760'000);
        const request r = few_tilings(d, 10.0, [&](request& it) {
            if (seed % 2 == 1) add_limits(d, it);
        });
        const auto best = evenest(small_request(r));
        CAPTURE(seed);
        const std::int64_t most = best.empty() ? 0 : best.rbegin()->first;
        for (std::int64_t n = 1; n <= most + 1; ++n) {
            CAPTURE(n);
            const tranche::planned planned = even_portions(r.meat, r.specs, r.rules, n);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules).empty());
            if (!best.contains(n)) {
                CHECK(planned.stop == stop_reason::demand_impossible);
                CHECK_FALSE(planned.why_not().empty());
                ++none;
                continue;
            }
            const spread_and_mass expected = best.at(n);
            check_is_best(planned, n, expected);
            uneven += expected.spread > 0;
            fewer += n < most;
        }
        const planned by_default = even_portions(r.meat, r.specs, r.rules);
        CHECK(by_default.feasible() == (most > 0));
        CHECK(by_default.plan.portion_count() == static_cast<std::size_t>(most));
        if (most > 0) CHECK(measured(by_default.plan).spread == best.at(most).spread);
    }
    CHECK(uneven > 100);
    CHECK(fewer > 100);
    CHECK(none > 100);
}

TEST_CASE("even portions in an order of cuts or of one thickness are the most equal of all tilings that keep it") {
    std::size_t linked = 0, costs = 0, none = 0;
    for (std::uint64_t seed = 0; seed < rounds(250, many_instances); ++seed) {
        dice d(seed + 770'000);
        request r = few_tilings(d, 10.0, [&](request& it) {
            if (seed % 3 == 1) add_limits(d, it);
        });
        add_links(d, r);
        const small_request all(r);
        std::map<std::int64_t, spread_and_mass> best, apart;
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            std::int64_t count = 0, light = std::numeric_limits<std::int64_t>::max(), heavy = 0, kept = 0;
            for (const auto& s : slabs) {
                if (!all.is_portion(s.option)) continue;
                const std::int64_t n = all.spec(s.option).pieces, w = all.masses(s.option, s.from, s.to).weight();
                count += n;
                light = std::min(light, w / n);
                heavy = std::max(heavy, (w + n - 1) / n);
                kept += w;
            }
            if (count == 0) return;
            const spread_and_mass now{heavy - light, heavy, kept};
            const auto enter = [&](auto& into) {
                const auto [at, first] = into.emplace(count, now);
                if (!first && now.better_than(at->second)) at->second = now;
            };
            enter(apart);
            if (all.go_together(slabs)) enter(best);
        });
        CAPTURE(seed);
        const std::int64_t most = best.empty() ? 0 : best.rbegin()->first;
        for (std::int64_t n = 1; n <= most + 1; ++n) {
            CAPTURE(n);
            const tranche::planned planned = even_portions(r.meat, r.specs, r.rules, n);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            if (!best.contains(n)) {
                CHECK(planned.stop == stop_reason::demand_impossible);
                ++none;
                continue;
            }
            const spread_and_mass expected = best.at(n);
            check_is_best(planned, n, expected);
            linked += cutting_problem(r.meat, r.specs, r.rules).links_slabs();
            costs += expected.spread > apart.at(n).spread;
        }
        CHECK(even_portions(r.meat, r.specs, r.rules).plan.portion_count() == static_cast<std::size_t>(most));
    }
    CHECK(linked > 200);
    CHECK(costs > 10); // evenness that order or thickness take away
    CHECK(none > 50);
}

TEST_CASE("with demands even portions are the most equal of all tilings that meet them, or lose the least that is even "
          "enough") {
    std::size_t met = 0, costs = 0, enough = 0, heavier = 0;
    for (std::uint64_t seed = 0; seed < rounds(150, many_instances); ++seed) {
        dice d(seed + 780'000);
        request r = few_tilings(d, 10.0, [&](request& it) {
            if (seed % 3 == 1) add_limits(d, it);
        });
        if (seed % 2 == 0) add_links(d, r);
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i) {
            const auto low = static_cast<std::int64_t>(d.whole(0, 2));
            if (!d.once_in(3)) demands.push_back({.spec = i, .at_least = low, .at_most = low + 1});
        }
        const mass even_enough = d.between(0.0, 1.0) * to_mass(r.meat.total()) / static_cast<double>(r.meat.cells());
        const std::int64_t within = to_micrograms(even_enough).count;
        const small_request all(r);
        std::map<std::int64_t, spread_and_mass> best, free, most_mass; // the last of those that are even enough
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            if (!all.go_together(slabs)) return;
            std::int64_t count = 0, light = std::numeric_limits<std::int64_t>::max(), heavy = 0, kept = 0;
            std::vector<std::int64_t> portions(r.specs.size());
            for (const auto& s : slabs) {
                if (!all.is_portion(s.option)) continue;
                const std::int64_t n = all.spec(s.option).pieces, w = all.masses(s.option, s.from, s.to).weight();
                count += n;
                portions[s.option - r.rules.loose.size()] += n;
                light = std::min(light, w / n);
                heavy = std::max(heavy, (w + n - 1) / n);
                kept += w;
            }
            if (count == 0) return;
            const spread_and_mass now{heavy - light, heavy, kept};
            const auto enter = [&](auto& into, const spread_and_mass& it) {
                const auto [at, first] = into.emplace(count, it);
                if (!first && it.better_than(at->second)) at->second = it;
            };
            enter(free, now);
            for (const demand& wanted : demands) {
                const std::int64_t n = portions[spec_of(wanted, r.specs)];
                if (n < wanted.at_least || n > wanted.at_most) return;
            }
            enter(best, now);
            if (now.spread <= within) enter(most_mass, {within, 0, kept});
        });
        CAPTURE(seed, within);
        const std::int64_t most = best.empty() ? 0 : best.rbegin()->first;
        for (std::int64_t n = 1; n <= most + 1; ++n) {
            CAPTURE(n);
            const tranche::planned planned = even_portions(r.meat, r.specs, r.rules, n, demands);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            if (!best.contains(n)) {
                CHECK(planned.stop == stop_reason::demand_impossible);
                CHECK_FALSE(planned.why_not().empty());
                continue;
            }
            check_is_best(planned, n, best.at(n));
            ++met;
            costs += best.at(n).spread > free.at(n).spread;

            const tranche::planned least = plan(r.meat, {r.specs, r.rules, demands}, even_portions(n, even_enough));
            CHECK(verify(least.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            const spread_and_mass found = measured(least.plan);
            CHECK(least.stop == stop_reason::optimal);
            CHECK(least.plan.portion_count() == static_cast<std::size_t>(n));
            if (!most_mass.contains(n)) {
                CHECK(found.spread == best.at(n).spread);
                CHECK(found.kept == best.at(n).kept);
                continue;
            }
            CHECK(found.spread <= within);
            CHECK(found.kept == most_mass.at(n).kept);
            CHECK(least.score_parts[0].value == -static_cast<double>(within));
            CHECK(least.score_parts[1].value == static_cast<double>(found.kept));
            ++enough;
            heavier += found.kept > best.at(n).kept;
        }
        if (most > 0)
            CHECK(even_portions(r.meat, r.specs, r.rules, {}, demands).plan.portion_count() ==
                  static_cast<std::size_t>(most));
    }
    CAPTURE(met, costs, enough, heavier);
    CHECK(met > 50);
    CHECK(costs > 10);
    CHECK(enough > 30);
    CHECK(heavier > 5);
}

TEST_CASE("more demands than there is room for states leave a plan that meets them, its spread and a bound of it") {
    // Invented: six cuts of 8 to 16 mm, of which three to six each are asked for: 117,649 counts.
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    std::vector<cut_spec> specs;
    std::vector<demand> demands;
    for (std::size_t i = 0; i < 6; ++i) {
        const length thin = (8.0 + static_cast<double>(i)) * millimetre;
        specs.push_back({.name = std::string("cut ") + static_cast<char>('A' + i), .thickness = {thin, thin + 4_mm}});
        demands.push_back({.spec = i, .at_least = 3, .at_most = 6});
    }
    const tranche::planned planned = even_portions(meat, specs, {}, {}, demands);
    REQUIRE(planned.stop == stop_reason::gap_left);
    CHECK(verify(planned.plan, meat, specs, {}) == std::vector<std::string>{});
    const spread_and_mass found = measured(planned.plan);
    CHECK(planned.score() == -static_cast<double>(found.spread));
    CHECK(planned.bound() <= 0.0);
    CHECK(planned.bound() >= planned.score());
    std::vector<std::int64_t> counts(6);
    for (const slab& s : planned.plan.slabs)
        if (s.kind == slab_kind::portions) ++counts[s.option];
    for (const std::int64_t n : counts) CHECK((n >= 3 && n <= 6));
    // Three of each can be no nearer together than 12 mm of A and 13 mm of F.
    CHECK(planned.bound() >= -1.1e6 * 9.483);
    CAPTURE(found.spread);
    CHECK(found.spread < 60'000'000);
}

TEST_CASE("a prism is cut into portions that are equal to the microgram that cells differ by") {
    const profile meat = tabulate(prism_loin{.length = 40_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_mm);
    const cut_spec steak{.name = "steak", .thickness = {20_mm, 40_mm}};
    for (const std::int64_t n : {1, 5, 8, 13, 20}) {
        const tranche::planned planned = even_portions(meat, steak, {}, n);
        REQUIRE(planned.feasible());
        CHECK(planned.plan.portion_count() == static_cast<std::size_t>(n));
        // Tissues are rounded to a microgram a position, so slabs of one thickness differ by a few.
        CHECK(-planned.score() < 20.0);
    }
    CHECK(even_portions(meat, steak, {}, 21).stop == stop_reason::demand_impossible);
    CHECK_THROWS_AS(even_portions(meat, steak, {}, 0), invalid_input);
}

TEST_CASE("even portions of a loin lie nearer together than those of any other plan of as many") {
    // Invented measurements.
    const profile meat = tabulate(measured_loin{.length = 42_cm,
                                                .stations = {{0_cm, 17.0_cm, 7.2_cm, 1.0_cm, 4_cm},
                                                             {20_cm, 15.8_cm, 6.9_cm, 0.8_cm, 3_cm},
                                                             {42_cm, 15.0_cm, 7.1_cm, 0.7_cm, 2_cm}}},
                                  0.5_mm);
    const cut_spec steak{
        .name = "steak", .thickness = {25_mm, 45_mm}, .portion = {300_g, 420_g}, .gluteus_medius = any_gluteus_medius};
    const planned even = even_portions(meat, steak), most = most_portions(meat, steak);
    REQUIRE(even.feasible());
    CHECK(even.plan.portion_count() == most.plan.portion_count());
    CHECK(measured(even.plan).spread < measured(most.plan).spread);
    // A cell of half a millimetre weighs about 5 g, so neighbouring thicknesses do; evenness within one is what a grid gives.
    CHECK(-even.score() < 5.5e6);
    CHECK(verify(even.plan, meat, {steak}, {}).empty());
}

} // namespace even_portions_oracle
