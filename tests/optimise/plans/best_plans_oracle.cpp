// The best plans that differ, and the numbers of portions within a gap, against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"
#include "optimise/three_cuts.hpp"

namespace best_plans_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Where a plan is cut, and how many slabs of each spec it has, said by itself.
struct cuts_and_counts {
    std::vector<length> cuts;
    std::vector<std::size_t> slabs;
};
bool differ(const cuts_and_counts& a, const cuts_and_counts& b, length apart) {
    if (a.slabs != b.slabs || a.cuts.size() != b.cuts.size()) return true;
    for (std::size_t i = 0; i < a.cuts.size(); ++i)
        if (std::abs((a.cuts[i] - b.cuts[i]).value()) > apart.value() - 1e-9) return true;
    return false;
}
cuts_and_counts of_plan(const cutting_plan& p, const std::vector<length>& pinned) {
    cuts_and_counts all{{}, std::vector<std::size_t>(p.specs.size())};
    const slab* before = nullptr;
    for (const slab& s : p.slabs) {
        if (s.kind == slab_kind::facing) continue;
        const bool portions = s.kind == slab_kind::portions;
        if (portions) ++all.slabs[s.option];
        const bool joined = before != nullptr && !portions && before->kind != slab_kind::portions &&
                            before->option == s.option && std::none_of(pinned.begin(), pinned.end(), [&](length at) {
                                return std::abs((at - s.start).value()) < 1e-9;
                            });
        if (before != nullptr && !joined) all.cuts.push_back(s.start);
        before = &s;
    }
    return all;
}

struct small_case {
    request r;
    std::vector<demand> demands;
    std::vector<length> pinned; ///< on the grid
};
/// Requests of all kinds, with few tilings.
template <class F>
void each_small_case(std::uint64_t first_seed, std::uint64_t count, const F& f) {
    for (std::uint64_t seed = 0; seed < count; ++seed) {
        dice d(first_seed + seed);
        small_case c{few_tilings(d, 10.0,
                                 [&](request& it) {
                                     add_limits(d, it);
                                     if (it.rules.facing < it.meat.extent() && d.once_in(3)) add_places(d, it);
                                 }),
                     {},
                     {}};
        if (seed % 3 == 0) add_links(d, c.r);
        const length start = c.r.meat.position(detail::position_behind_facing(c.r.meat, c.r.rules));
        const auto inside = [&](const quantity_range<length>& s) { return detail::is_inside(start, s); };
        if (std::any_of(c.r.rules.kept_whole.begin(), c.r.rules.kept_whole.end(), inside)) continue;
        for (std::size_t i = 0; i < c.r.specs.size(); ++i)
            if (d.once_in(4)) c.demands.push_back({.spec = i, .at_least = 1, .at_most = 2});
        for (const length& at : c.r.rules.cut_at) c.pinned.push_back(c.r.meat.position(c.r.meat.nearest(at)));
        CAPTURE(first_seed + seed);
        f(std::as_const(c), d);
    }
}

/// Calls f(cuts and counts, portions by spec, score) for each tiling that is a plan.
template <objective O, class F>
void each_plan(const small_case& c, const O& objective, const F& f) {
    const small_request all(c.r);
    const auto at = [&](std::size_t i) { return c.r.meat.position(i); };
    all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
        if (!all.go_together(slabs)) return;
        cuts_and_counts what{{}, std::vector<std::size_t>(c.r.specs.size())};
        std::vector<std::size_t> portions(c.r.specs.size());
        typename O::score_type sum{};
        const small_request::laid* before = nullptr;
        for (const auto& s : slabs) {
            const bool portion = all.is_portion(s.option);
            const std::size_t spec = portion ? s.option - c.r.rules.loose.size() : 0;
            if (portion) ++what.slabs[spec], portions[spec] += static_cast<std::size_t>(all.spec(s.option).pieces);
            const bool joined = before != nullptr && !portion && before->option == s.option &&
                                std::find(c.pinned.begin(), c.pinned.end(), at(s.from)) == c.pinned.end();
            if (before != nullptr && !joined) what.cuts.push_back(at(s.from));
            sum = sum + slab_score(objective, s.option, s.from, s.to);
            before = &s;
        }
        for (const demand& wanted : c.demands) {
            const auto n = static_cast<std::int64_t>(portions[spec_of(wanted, c.r.specs)]);
            if (n < wanted.at_least || n > wanted.at_most) return;
        }
        f(what, portions, sum);
    });
}

} // namespace

TEST_CASE("each of the best plans is the best of all tilings that differ from those before it") {
    std::size_t plans = 0, ended = 0, by_cuts = 0, none = 0;
    each_small_case(1'850'000, rounds(120, many_instances), [&](const small_case& c, dice& d) {
        const length apart = detail::snapped(d.between(0.5, 3.0) * c.r.meat.step());
        const auto want = most_portions();
        constexpr std::size_t most = 6;
        const found_list<planned> found = best_plans(c.r.meat, {c.r.specs, c.r.rules, c.demands}, want, {most, apart});
        const cutting_problem problem(c.r.meat, c.r.specs, c.r.rules);
        const auto objective = want(problem);
        std::vector<cuts_and_counts> before;
        for (std::size_t i = 0; i <= found.size() && i < most; ++i) {
            CAPTURE(i);
            bool any = false;
            std::int64_t best = 0;
            each_plan(c, objective, [&](const cuts_and_counts& what, const auto&, std::int64_t score) {
                for (const cuts_and_counts& b : before)
                    if (!differ(what, b, apart)) return;
                best = any ? std::max(best, score) : score;
                any = true;
            });
            REQUIRE(any == (i < found.size()));
            if (!any) {
                ++(i == 0 ? none : ended);
                break;
            }
            CHECK(found[i].score() == static_cast<double>(best));
            CHECK(found[i].bound() == found[i].score());
            CHECK(verify(found[i].plan, c.r.meat, c.r.specs, c.r.rules) == std::vector<std::string>{});
            const cuts_and_counts now = of_plan(found[i].plan, c.pinned);
            for (const cuts_and_counts& b : before) {
                CHECK(differ(now, b, apart));
                by_cuts += now.slabs == b.slabs;
            }
            before.push_back(now);
            ++plans;
        }
    });
    CHECK(plans > 300);
    CHECK(ended > 5);
    CHECK(by_cuts > 50);
    CHECK(none > 5);
}

TEST_CASE("numbers of portions within a gap are those of all tilings, each with its best score") {
    std::size_t mixes = 0, left_out = 0;
    each_small_case(1'860'000, rounds(120, many_instances), [&](const small_case& c, dice& d) {
        const auto want = lexicographic(best_by<portion_count_objective>(), best_by<portion_mass_objective>());
        const auto gap = static_cast<double>(d.whole(0, 2));
        const cutting_problem problem(c.r.meat, c.r.specs, c.r.rules);
        const auto objective = want(problem);
        using score_type = typename decltype(objective)::score_type;
        std::map<std::vector<std::size_t>, score_type> best;
        each_plan(c, objective, [&](const auto&, const std::vector<std::size_t>& portions, const score_type& score) {
            const auto [at, is_new] = best.try_emplace(portions, score);
            if (!is_new && at->second < score) at->second = score;
        });
        const cutting_request request{c.r.specs, c.r.rules, c.demands};
        const found_list<portion_counts> found = counts_within(c.r.meat, request, want, gap);
        const auto alone = best_counts(c.r.meat, request, want);
        CHECK(alone.has_value() == !best.empty());
        double top = -1.0;
        for (const auto& [portions, score] : best) top = std::max(top, static_cast<double>(std::get<0>(score.parts)));
        std::size_t expected = 0;
        for (const auto& entry : best) { // clang 14 captures no structured bindings
            const auto& wanted = entry.first;
            const auto& score = entry.second;
            if (static_cast<double>(std::get<0>(score.parts)) < top - gap) {
                ++left_out;
                continue;
            }
            ++expected;
            const auto here = std::find_if(found.begin(), found.end(),
                                           [&wanted](const portion_counts& p) { return p.portions == wanted; });
            REQUIRE(here != found.end());
            CHECK(here->score == detail::numbers_of(score));
        }
        CHECK(found.size() == expected);
        for (std::size_t i = 1; i < found.size(); ++i) CHECK_FALSE(found[i - 1].score < found[i].score);
        mixes += found.size();
        if (alone) {
            CHECK(alone->score == found.front().score);
            CHECK(found.front().lost == 0.0);
        }
    });
    CHECK(mixes > 150);
    CHECK(left_out > 100);
}

TEST_CASE("on a whole loin the best plans differ by cuts of 5 mm or by counts, and come in order") {
    const profile meat = measured_strip(1_mm);
    const found_list<planned> plans = best_plans(meat, {three_cuts()}, most_portions(), {.most = 5});
    REQUIRE(plans.size() == 5);
    CHECK(plans[0].score() == most_portions(meat, three_cuts()).score());
    for (std::size_t i = 0; i < plans.size(); ++i) {
        CHECK(verify(plans[i].plan, meat, three_cuts(), {}) == std::vector<std::string>{});
        for (std::size_t k = 0; k < i; ++k) {
            CHECK(plans[k].score() >= plans[i].score());
            CHECK(differ(of_plan(plans[i].plan, {}), of_plan(plans[k].plan, {}), 5_mm));
        }
    }
    CHECK_THROWS_AS(best_plans(meat, {three_cuts()}, most_portions(), {2, 0_mm}), invalid_input);
    CHECK_THROWS_AS(counts_within(meat, {three_cuts()}, most_portions(), -1.0), invalid_input);
    CHECK(best_plans(meat, {three_cuts(), {}, {at_least(90, "steak")}}, most_portions(), {.most = 2}).empty());
    const auto stopped = best_plans(meat, {three_cuts()}, most_portions(), {.most = 5}, {.stop = [] { return true; }});
    CHECK(stopped.empty());
    CHECK(stopped.ended == search_end::stopped);
    const auto whole = counts_within(meat, {three_cuts()}, most_portions(), 1e9);
    const auto some = counts_within(meat, {three_cuts()}, most_portions(), 1e9, {.most_passes = 20});
    CHECK(whole.ended == search_end::by_itself);
    CHECK(some.ended == search_end::out_of_work);
    CHECK(some.size() < whole.size());
}

} // namespace best_plans_oracle
