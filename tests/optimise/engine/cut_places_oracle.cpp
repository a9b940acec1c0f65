// Cuts that are pinned and stretches that are kept whole, against every tiling of small loins.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/optimise.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace cut_places_oracle {

using namespace tranche;
using namespace tranche_test;

namespace {

/// A user's objective over whole slabs, as a double, that likes cuts of different thickness.
struct odd_thickness {
    using score_type = double;
    const cutting_problem* problem;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        const auto cells = static_cast<double>(to - from);
        return problem->is_portion(o) ? 10.0 * cells + 7.0 * static_cast<double>((from * from + 3 * (to - from)) % 5)
                                      : -cells;
    }
};

request placed_request(dice& d) {
    return few_tilings(d, 3.0, [&](request& it) {
        add_limits(d, it);
        if (it.rules.facing < it.meat.extent()) add_places(d, it);
    });
}

/// Whether the facing ends inside of what is to be kept whole, on this grid: then there is no plan at all.
bool facing_in_the_way(const request& r) {
    const length start = r.meat.position(detail::position_behind_facing(r.meat, r.rules));
    for (const quantity_range<length>& stretch : r.rules.kept_whole)
        if (detail::is_inside(detail::snapped(start), stretch)) return true;
    return false;
}

} // namespace

TEST_CASE("plans between pinned cuts and what is kept whole equal the best of all tilings") {
    std::size_t pinned_costs = 0, whole_costs = 0, linked = 0;
    for (std::uint64_t seed = 0; seed < rounds(400, many_instances); ++seed) {
        dice d(seed + 1'800'000);
        request r = placed_request(d);
        if (seed % 3 == 0) add_links(d, r);
        if (facing_in_the_way(r)) continue;
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed, problem.cells(), problem.start());
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to)
                    if (problem.allows(o, from, to) != all.allowed(o, from, to)) {
                        CAPTURE(o, from, to);
                        CHECK(problem.allows(o, from, to) == all.allowed(o, from, to));
                    }
        const auto check = [&](const auto& objective) {
            const auto best = best_linked(all, r, objective);
            const auto found = best_path(problem, objective);
            REQUIRE(best);
            CHECK(found.finite);
            CHECK(found.score == *best);
            const tranche::planned planned = plan(problem, objective);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            // Whether the best is better without; one request has a thousand times the tilings of the others then.
            const auto costs = [&](std::vector<length> cut_at, std::vector<quantity_range<length>> kept_whole) {
                request free = r;
                free.rules.cut_at = std::move(cut_at);
                free.rules.kept_whole = std::move(kept_whole);
                const small_request more(free);
                return more.tilings() < 1e5 && found.score < *best_linked(more, free, objective);
            };
            pinned_costs += costs({}, r.rules.kept_whole);
            whole_costs += costs(r.rules.cut_at, {});
            linked += problem.links_slabs();
        };
        check(kept_mass_objective::portions_then_mass(problem));
        check(odd_thickness{&problem});
    }
    CHECK(pinned_costs > 100);
    CHECK(whole_costs > 100);
    CHECK(linked > 100);
}

TEST_CASE(
    "demands between pinned cuts equal the best of all tilings that meet them, by states, by prices and with proof") {
    std::size_t met = 0, impossible = 0, by_prices = 0;
    for (std::uint64_t seed = 0; seed < rounds(200, many_instances); ++seed) {
        dice d(seed + 1'810'000);
        request r = placed_request(d);
        if (seed % 3 == 0) add_links(d, r);
        if (facing_in_the_way(r)) continue;
        std::vector<demand> demands;
        for (std::size_t i = 0; i < r.specs.size(); ++i) {
            const auto low = static_cast<std::int64_t>(d.whole(0, 2));
            if (!d.once_in(3)) demands.push_back({.spec = i, .at_least = low, .at_most = low + 1});
        }
        const small_request all(r);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        const auto objective = kept_mass_objective::portions_then_mass(problem);
        const auto best = best_linked(all, r, objective, demands);
        const auto found = best_path_with_demand(problem, objective, demands);
        CHECK((found.outcome == demand_outcome::met) == best.has_value());
        if (best) CHECK(found.score == *best);
        ++(best ? met : impossible);
        if (!problem.varying().empty()) continue;
        const auto proven = best_path_with_demand(problem, objective, demands, {.most_entries = 1, .prove = true});
        if (best && proven.outcome == demand_outcome::met) {
            CHECK(proven.score == *best);
            CHECK_FALSE(proven.bound < proven.score);
            ++by_prices;
        }
        if (!best) CHECK(proven.outcome != demand_outcome::met);
    }
    CHECK(met > 60);
    CHECK(impossible > 30);
    CHECK(by_prices > 50);
}

TEST_CASE("the most even portions between pinned cuts are those of all tilings") {
    std::size_t looked = 0;
    for (std::uint64_t seed = 0; seed < rounds(150, many_instances); ++seed) {
        dice d(seed + 1'820'000);
        const request r = placed_request(d);
        if (facing_in_the_way(r)) continue;
        const small_request all(r);
        std::size_t most = 0;
        std::int64_t narrowest = 0;
        all.each_tiling([&](const std::vector<small_request::laid>& slabs) {
            std::size_t portions = 0;
            std::int64_t low = 0, high = 0;
            for (const auto& s : slabs) {
                if (!all.is_portion(s.option)) continue;
                const std::int64_t weight = all.masses(s.option, s.from, s.to).weight(), n = all.spec(s.option).pieces;
                const std::int64_t least = weight / n, largest = weight / n + (weight % n > 0 ? 1 : 0);
                low = portions == 0 ? least : std::min(low, least);
                high = portions == 0 ? largest : std::max(high, largest);
                portions += static_cast<std::size_t>(n);
            }
            if (portions > most || (portions == most && high - low < narrowest)) narrowest = high - low;
            most = std::max(most, portions);
        });
        if (most == 0) continue;
        CAPTURE(seed, most);
        const planned even = even_portions(r.meat, r.specs, r.rules);
        CHECK(even.plan.portion_count() == most);
        CHECK(-even.score() == static_cast<double>(narrowest));
        CHECK(verify(even.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
        ++looked;
    }
    CHECK(looked > 80);
}

} // namespace cut_places_oracle
