// Limits on slabs, and limits that link them, against every tiling of small loins; with demands too.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace linked_slabs_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

template <objective O>
typename O::score_type score_of(const cutting_problem& problem, const O& objective,
                                const std::vector<grid_slab>& stretches) {
    typename O::score_type sum{};
    for (const grid_slab& s : stretches)
        sum = sum + slab_score(objective, s.option + (s.kind == slab_kind::portions ? problem.loose_count() : 0),
                               s.from, s.to);
    return sum;
}

} // namespace

TEST_CASE("plans under limits of all kinds equal the best of all tilings") {
    std::size_t costs = 0, split = 0;
    for (std::uint64_t seed = 0; seed < rounds(240); ++seed) {
        dice d(seed + 800'000);
        request r = few_tilings(d, 10.0, [&](request& it) { add_limits(d, it); });
        if (seed % 4 != 0) add_links(d, r);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());
        cutting_problem apart(r.meat, r.specs, r.rules);
        apart.let_thicknesses_differ();
        const auto check = [&](const auto& objective) {
            const auto found = best_path(problem, objective);
            CHECK(found.score == best_linked(all, r, objective));
            CHECK(score_of(problem, objective, found.stretches) == found.score);
            const tranche::planned planned = plan(problem, objective);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            CHECK(planned.score() == static_cast<double>(found.score));
            split += found.score < best_path(apart, objective).score;
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(kept_mass_objective::mass_then_portions(problem));
        check(value_objective<usd>(problem, random_prices(d, r.specs)));
        check(odd_thickness{&problem});
        request free = r;
        free.rules.order.clear();
        const cutting_problem unordered(free.meat, free.specs, free.rules);
        costs +=
            best_path(problem, odd_thickness{&problem}).score < best_path(unordered, odd_thickness{&unordered}).score;
    }
    CHECK(costs > 1);  // an order that costs something
    CHECK(split > 50); // and so does one thickness
}

TEST_CASE("plans with demands under limits of all kinds equal the best of all tilings that meet them") {
    std::size_t met = 0, impossible = 0;
    for (std::uint64_t seed = 0; seed < rounds(80, many_instances); ++seed) {
        dice d(seed + 810'000);
        request r = few_tilings(d, 10.0, [&](request& it) { add_limits(d, it); });
        add_links(d, r);
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i) {
            const auto low = static_cast<std::int64_t>(d.whole(0, 2));
            if (!d.once_in(3)) demands.push_back({.spec = i, .at_least = low, .at_most = low + 1});
        }
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());
        const auto check = [&](const auto& objective) {
            const auto best = best_linked(all, r, objective, demands);
            const auto found = best_path_with_demand(problem, objective, demands);
            CHECK((found.outcome == demand_outcome::met) == best.has_value());
            CHECK((found.outcome == demand_outcome::impossible) == !best);
            ++(best ? met : impossible);
            if (best) {
                CHECK(found.score == *best);
                CHECK(found.proven_optimal());
            } else {
                CHECK_FALSE(found.shortfalls.empty());
            }
            const cutting_plan laid = lay_out(r.meat, r.specs, r.rules, found.stretches);
            CHECK(verify(laid, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            CHECK(score_of(problem, objective, found.stretches) == found.score);

            const auto relaxed = best_path_with_demand(problem, objective, demands, {.most_entries = 0, .rounds = 40});
            if (best) {
                CHECK_FALSE(relaxed.bound < *best);
                CHECK(relaxed.outcome == demand_outcome::met); // few states: the beam holds them all
                CHECK_FALSE(*best < relaxed.score);
            } else {
                CHECK(relaxed.outcome != demand_outcome::met);
            }
            CHECK(verify(lay_out(r.meat, r.specs, r.rules, relaxed.stretches), r.meat, r.specs, r.rules).empty());
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(odd_thickness{&problem});
        check(lexicographic(portion_count_objective(problem), odd_thickness{&problem}));
        check(lexicographic(portion_count_objective(problem), portion_mass_objective(problem)));
    }
    CHECK(met > 60);
    CHECK(impossible > 60);
}

TEST_CASE("where demands cannot be met, the plan keeps every cap and lacks the fewest portions of all tilings") {
    std::size_t missed = 0, idle_in_front = 0, partly = 0, priced = 0, priced_as_near = 0;
    for (std::uint64_t seed = 0; seed < rounds(60, many_instances); ++seed) {
        dice d(seed + 830'000);
        request r = few_tilings(d);
        if (seed % 2 == 0) add_links(d, r);
        if (seed % 4 == 0) {
            add_idle_cut(d, r);
            if (small_request(r).tilings() > 2e4) continue;
        }
        const std::vector<demand> demands = hard_demands(d, r, seed % 4 == 0 ? 1 : 0);
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        const auto check = [&](const auto& objective) {
            const auto best = nearest_to(all, r, objective, demands);
            REQUIRE(best); // a tiling without portions is above no cap
            const auto found = best_path_with_demand(problem, objective, demands);
            CHECK((found.outcome == demand_outcome::met) == (best->first == 0));
            CHECK(found.score == best->second);
            CHECK(detail::portions_missing(problem, demands, found.stretches) == -best->first);
            CHECK(score_of(problem, objective, found.stretches) == found.score);
            const cutting_plan laid = lay_out(r.meat, r.specs, r.rules, found.stretches);
            CHECK(verify(laid, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            // Beyond the exact states too all caps are kept, and mostly as many of the portions asked for.
            const auto beyond = best_path_with_demand(problem, objective, demands, {.most_entries = 0, .rounds = 40});
            const auto missing = detail::portions_missing(problem, demands, beyond.stretches);
            REQUIRE(missing);
            CHECK(*missing >= -best->first);
            ++priced;
            priced_as_near += *missing == -best->first;
            if (best->first == 0) return;
            ++missed;
            partly += found.score != best_path(problem, objective).score;
            idle_in_front += seed % 4 == 0;
            // Each demand that the plan does not meet is named, and none that asks for nothing.
            std::vector<bool> named(r.specs.size());
            for (const demand_shortfall& s : found.shortfalls) {
                named[s.spec] = true;
                CHECK(s.text.find(r.specs[s.spec].name) != std::string::npos);
                CHECK(s.wanted > 0);
            }
            for (const demand& wanted : demands) {
                const std::size_t spec = spec_of(wanted, r.specs);
                std::int64_t has = 0;
                for (const auto& s : found.stretches)
                    if (s.kind == slab_kind::portions && s.option == spec) has += r.specs[spec].pieces;
                if (has < wanted.at_least) CHECK(named[spec]);
            }
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(odd_thickness{&problem});
    }
    CHECK(missed > 30);
    CHECK(partly > 15);
    CHECK(idle_in_front > 6);
    CHECK(10 * priced_as_near > 9 * priced);
}

TEST_CASE("what a limit says of one slab is what enumeration says") {
    // As for the plain limits in best_path_oracle.cpp, but for the cells of a slab at the sirloin face.
    for (std::uint64_t seed = 0; seed < rounds(100, many_instances); ++seed) {
        dice d(seed + 820'000);
        request r = random_request(d, 3, 20);
        if (!(r.rules.facing < r.meat.extent())) continue;
        add_limits(d, r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) {
            const auto [least, most] = problem.cells_of(o);
            for (std::size_t cells = 1; cells <= problem.cells() + 1; ++cells) {
                cutting_problem narrowed = problem;
                narrowed.narrow_cells(o, cells, cells);
                for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                    for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                        const bool expected = problem.allows(o, from, to) && problem.cells_of(o, from, to) == cells;
                        if (narrowed.allows(o, from, to) != expected) {
                            CAPTURE(o, cells, from, to);
                            CHECK(narrowed.allows(o, from, to) == expected);
                        }
                        if (expected) CHECK((least <= cells && cells <= most));
                    }
            }
        }
    }
}

TEST_CASE("the rest behind slabs that are cut equals the best of all tilings that start with them") {
    std::size_t rests = 0, ordered = 0, fixed = 0;
    std::vector<std::uint64_t> seeds{5577, 5638, 6243}; // notches that are other numbers of cells at the sirloin face
    for (std::uint64_t seed = 0; seed < rounds(240, many_instances); ++seed) seeds.push_back(seed);
    for (const std::uint64_t seed : seeds) {
        dice d(seed + 840'000);
        request r = few_tilings(d, 10.0, [&](request& it) { add_limits(d, it); });
        add_links(d, r);
        r.rules.remnant = {}; // all of the rest may be loose
        const small_request all(r);
        if (all.tilings() > 4e3) continue;
        std::vector<std::vector<small_request::laid>> tilings;
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            if (all.go_together(slabs)) tilings.push_back(slabs);
        });
        const std::vector<small_request::laid> cut = tilings[d.whole(0, tilings.size() - 1)];
        const std::size_t in_front = d.whole(0, cut.size() - 1);
        const auto starts_alike = [&](const std::vector<small_request::laid>& slabs) {
            for (std::size_t i = 0; i < in_front; ++i)
                if (i >= slabs.size() || slabs[i].option != cut[i].option || slabs[i].to != cut[i].to) return false;
            return slabs.size() > in_front;
        };
        cutting_problem problem(r.meat, r.specs, r.rules);
        const odd_thickness objective{&problem};
        std::optional<std::int64_t> best;
        for (const auto& slabs : tilings) {
            if (!starts_alike(slabs)) continue;
            std::int64_t sum = 0;
            for (std::size_t i = in_front; i < slabs.size(); ++i)
                sum += objective.slab(slabs[i].option, slabs[i].from, slabs[i].to);
            if (!best || *best < sum) best = sum;
        }
        detail::slabs_in_front before{std::vector<bool>(r.specs.size()), std::vector<length>(r.specs.size())};
        before.any = in_front > 0; // then loose meat is as thick there as elsewhere
        for (std::size_t i = 0; i < in_front; ++i) {
            if (!all.is_portion(cut[i].option)) continue;
            const std::size_t spec = cut[i].option - r.rules.loose.size();
            before.cut[spec] = true;
            before.thickness[spec] = static_cast<double>(cut[i].to - cut[i].from) * r.meat.step() - r.specs[spec].kerf;
            fixed += r.specs[spec].one_thickness;
        }
        CAPTURE(seed, in_front);
        const std::size_t start = cut[in_front].from;
        const auto whole = best_path(problem, objective);
        problem.plan_rest(start, 1.0, before);
        const auto rest = best_path(problem, objective);
        CHECK(rest.score == best);
        CHECK(score_of(problem, objective, rest.stretches) == rest.score);
        ++rests;
        ordered += !r.rules.order.empty() && in_front > 0;
        // What lies in front can be taken back.
        problem.plan_rest(all.start(), 1.0, {std::vector<bool>(r.specs.size()), std::vector<length>(r.specs.size())});
        CHECK(best_path(problem, objective).stretches == whole.stretches);
    }
    CHECK(rests > 60);
    CHECK(ordered > 12);
    CHECK(fixed > 2);
}

TEST_CASE("what is planned cell by cell refuses what links slabs") {
    dice d(830'000);
    request r = request_of_size(d, 100, 200);
    r.specs.resize(1);
    r.specs.front().thickness = {3.0 * r.meat.step(), 9.0 * r.meat.step()};
    r.specs.front().one_thickness = true;
    cutting_problem problem(r.meat, r.specs, r.rules);
    CHECK_THROWS_AS(problem.plan_rest(3, 1.0), invalid_input);
    CHECK_THROWS_AS(detail::count_states<portion_count_objective>(problem, portion_count_objective(problem), {}),
                    invalid_input);
    r.specs.front().one_thickness = false;
    r.specs.push_back(r.specs.front());
    r.specs.back().name = "another";
    r.rules.order = {{r.specs[0].name, "another"}};
    cutting_problem ordered(r.meat, r.specs, r.rules);
    CHECK_THROWS_AS(ordered.plan_rest(3, 1.0), invalid_input);
}

} // namespace linked_slabs_oracle
