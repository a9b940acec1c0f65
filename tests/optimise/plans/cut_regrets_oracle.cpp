// What a cut costs at each position, against every tiling of small loins and against planning again with the cut pinned.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <tranche/optimise.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"
#include "optimise/three_cuts.hpp"

namespace cut_regrets_oracle {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct squares {
    using score_type = double;
    const cutting_problem* problem;
    [[nodiscard]] double slab(std::size_t o, std::size_t from, std::size_t to) const {
        const auto cells = static_cast<double>(to - from);
        return problem->is_portion(o) ? 20.0 * cells - cells * cells : -cells;
    }
};

} // namespace

TEST_CASE("what a cut costs at each position is what all tilings with a cut there lose") {
    std::size_t free = 0, dear = 0, impossible = 0, unmet = 0;
    for (std::uint64_t seed = 0; seed < rounds(250, many_instances); ++seed) {
        dice d(seed + 1'840'000);
        request r = few_tilings(d, 10.0, [&](request& it) {
            add_limits(d, it);
            if (it.rules.facing < it.meat.extent() && d.once_in(3)) add_places(d, it);
        });
        if (seed % 3 == 0) add_links(d, r);
        const length start = r.meat.position(detail::position_behind_facing(r.meat, r.rules));
        const auto inside = [&](const quantity_range<length>& s) { return detail::is_inside(start, s); };
        if (std::any_of(r.rules.kept_whole.begin(), r.rules.kept_whole.end(), inside)) continue;
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i)
            if (d.once_in(3)) demands.push_back({.spec = i, .at_least = 1, .at_most = 2});
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells());
        const auto check = [&](const auto& objective) {
            using score_type = typename std::decay_t<decltype(objective)>::score_type;
            std::vector<std::optional<score_type>> through(problem.cells() + 1);
            all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
                if (!all.go_together(slabs)) return;
                std::vector<std::int64_t> portions(r.specs.size());
                score_type sum{};
                for (const auto& s : slabs) {
                    if (all.is_portion(s.option))
                        portions[s.option - r.rules.loose.size()] += all.spec(s.option).pieces;
                    sum = sum + slab_score(objective, s.option, s.from, s.to);
                }
                for (const demand& wanted : demands) {
                    const std::int64_t n = portions[spec_of(wanted, r.specs)];
                    if (n < wanted.at_least || n > wanted.at_most) return;
                }
                const auto offer = [&](std::size_t p) {
                    if (!through[p] || *through[p] < sum) through[p] = sum;
                };
                offer(problem.start());
                for (const auto& s : slabs) offer(s.to);
            });
            const std::vector<cut_regret> regrets = cut_regrets(problem, objective, demands);
            if (!through[problem.start()]) {
                CHECK(regrets.empty());
                ++unmet;
                return;
            }
            REQUIRE(regrets.size() == problem.cells() + 1 - problem.start());
            for (std::size_t p = problem.start(); p <= problem.cells(); ++p) {
                const cut_regret& here = regrets[p - problem.start()];
                CAPTURE(p);
                CHECK(here.at == r.meat.position(p));
                if (!through[p]) {
                    CHECK(std::isinf(here.lost));
                    ++impossible;
                    continue;
                }
                const double lost = static_cast<double>(*through[problem.start()] - *through[p]);
                CHECK(here.lost == lost); // whole numbers, also as doubles
                ++(lost > 0.0 ? dear : free);
            }
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(squares{&problem});
    }
    CHECK(free > 500);
    CHECK(dear > 500);
    CHECK(impossible > 100);
    CHECK(unmet > 20);
}

TEST_CASE("what a cut costs is what a plan loses that is made again with the cut pinned") {
    const profile meat = measured_strip(2_mm);
    std::vector<cut_spec> cuts = three_cuts();
    const auto both = lexicographic(best_by<portion_count_objective>(), best_by<portion_mass_objective>());
    const auto check = [&](const cutting_request& request) {
        const std::vector<cut_regret> regrets = cut_regrets(meat, request, both);
        const tranche::planned best = plan(meat, request, both);
        std::size_t costs = 0;
        for (const cut_regret& here : regrets) {
            cutting_request pinned = request;
            pinned.rules.cut_at = {here.at};
            const tranche::planned with = plan(meat, pinned, both);
            CAPTURE(here.at / millimetre, here.lost, here.part);
            REQUIRE(with.score_parts.size() == 2);
            const double portions = best.score_parts[0].value - with.score_parts[0].value,
                         mass_in_portions = best.score_parts[1].value - with.score_parts[1].value;
            CHECK(here.part == (portions != 0.0 ? 0 : 1));
            CHECK(here.lost == (portions != 0.0 ? portions : mass_in_portions));
            costs += here.lost > 0.0;
        }
        CHECK(costs > 50);
    };
    // Loose meat of any thickness, so that a pinned cut lets nothing through that is not there without it.
    const cutting_rules rules{.facing = 6_mm, .loose = {{.least_thickness = 0_mm}}};
    check({cuts, rules});
    check({cuts, rules, {exactly(4, "fillet")}});
    cutting_rules ordered = rules;
    ordered.order = {{"steak", "fillet"}};
    check({cuts, ordered});
    cuts[0].one_thickness = true;
    check({cuts, rules});
}

TEST_CASE("an order of cuts beyond all tables is answered with bounds that hold") {
    const profile meat = measured_strip(2_mm);
    const std::vector<cut_spec> good{three_cuts().front()};
    const cutting_rules rules{.facing = 6_mm, .loose = {{.least_thickness = 0_mm}}};
    // Sixteen pairs of cuts that are too heavy for this loin: 2^16 sets at some 210 positions, and no plan that differs.
    cutting_request many{good, rules};
    for (int k = 0; k < 16; ++k) {
        const std::string number = std::to_string(k);
        for (const char* name : {"first ", "then "})
            many.cuts.push_back({.name = name + number, .thickness = {25_mm, 30_mm}, .portion = {9_kg, 10_kg}});
        many.rules.order.push_back({"first " + number, "then " + number});
    }
    const auto exact = cut_regrets(meat, {good, rules}, most_portions());
    const auto bounds = cut_regrets(meat, many, most_portions());
    CHECK(exact.ended == search_end::by_itself);
    CHECK(bounds.ended == search_end::out_of_work);
    REQUIRE(bounds.size() == exact.size());
    std::size_t known = 0, dear = 0;
    for (std::size_t i = 0; i < exact.size(); ++i) {
        CAPTURE(exact[i].at / millimetre);
        CHECK(bounds[i].at == exact[i].at);
        CHECK(bounds[i].at_least == exact[i].lost); // without the order nothing is lost that the order would keep
        CHECK(bounds[i].part_at_least == exact[i].part);
        CHECK(bounds[i].lost >= exact[i].lost);
        known += bounds[i].lost < std::numeric_limits<double>::infinity();
        dear += bounds[i].at_least > 0.0;
    }
    CHECK(known > 5); // along the plan that was found
    CHECK(dear > 50);
}

TEST_CASE("what a cut costs is said part by part, and not where no plan is possible") {
    const profile meat = measured_strip(1_mm);
    CHECK(cut_regrets(meat, {three_cuts(), {}, {at_least(60, "steak")}}, most_portions()).empty());
    const cutting_rules rules{.kept_whole = {{100_mm, 120_mm}}};
    for (const cut_regret& here : cut_regrets(meat, {three_cuts(), rules}, most_portions()))
        CHECK(std::isinf(here.lost) == (here.at > 100_mm && here.at < 120_mm));
}

TEST_CASE("what a cut costs lies between two figures where a search is ended or tables hold too little") {
    const profile meat = measured_strip(2_mm);
    std::vector<cut_spec> linked = three_cuts();
    for (cut_spec& spec : linked) spec.one_thickness = true;
    const std::vector<demand> demands{at_least(3, "steak"), exactly(4, "fillet")};
    struct hard {
        const char* name;
        cutting_request request;
        search_limits search, exact;
    };
    const hard all[] = {{"no room for both demands", {three_cuts(), {}, demands}, {.most_entries = 1'500}, {}},
                        {"no room for any", {three_cuts(), {}, demands}, {.most_entries = 0}, {}},
                        {"ended", {three_cuts(), {}, demands}, {.most_passes = 9}, {}},
                        {"one thickness, ended", {{linked[0], three_cuts()[1]}, {}, {}}, {.most_passes = 12}, {}}};
    for (const hard& h : all) {
        const auto exact = cut_regrets(meat, h.request, most_portions());
        const auto some = cut_regrets(meat, h.request, most_portions(), h.search);
        CAPTURE(h.name);
        CHECK(exact.ended == search_end::by_itself);
        CHECK(some.ended == search_end::out_of_work);
        if (some.empty()) {
            CHECK(h.search.most_passes < 10);
            continue;
        }
        REQUIRE(some.size() == exact.size());
        std::size_t told = 0, known = 0;
        for (std::size_t p = 0; p < some.size(); ++p) {
            CHECK(exact[p].at_least == exact[p].lost);
            CHECK(some[p].at_least <= exact[p].lost);
            CHECK(exact[p].lost <= some[p].lost);
            told += some[p].at_least > 0.0 ? 1U : 0U;
            known += std::isfinite(some[p].lost) ? 1U : 0U;
        }
        CHECK(told > 5);
        CHECK(known > 5);
    }
    // Three cuts of one thickness: more choices than are looked at one by one.
    const auto many = cut_regrets(measured_strip(1_mm), {linked, {}, {}}, most_portions());
    CHECK(many.ended == search_end::out_of_work);
    REQUIRE_FALSE(many.empty());
    for (const cut_regret& here : many) CHECK(here.at_least <= here.lost);
    CHECK(std::count_if(many.begin(), many.end(), [](const cut_regret& r) { return std::isfinite(r.lost); }) > 5);
}

} // namespace cut_regrets_oracle
