// The graph of slabs and the searches on it, each held against a look at every slab or against another search.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <type_traits>

#include <tranche/optimise/engine/detail/count_states.hpp>
#include <tranche/optimise/engine/detail/even_search.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/portion_objectives.hpp>

#include "optimise/instances.hpp"

namespace slab_graph_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

request limited_request(std::uint64_t seed) {
    dice d(seed);
    request r = random_request(d, 3, 20);
    if (d.once_in(2)) add_limits(d, r);
    return r;
}

} // namespace

TEST_CASE("limits of weight and thickness leave just the slabs that keep them") {
    std::size_t kept = 0, dropped = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        const request r = limited_request(seed + 320'000);
        if (!(r.rules.facing < r.meat.extent())) continue;
        dice d(seed + 330'000);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const std::int64_t cell = r.meat.total().count / static_cast<std::int64_t>(r.meat.cells());
        const std::int64_t low = cell * static_cast<std::int64_t>(d.whole(0, 2)),
                           high = low + cell * static_cast<std::int64_t>(d.whole(0, 4));
        const length thinnest = detail::snapped(d.between(0.0, 4.0) * r.meat.step());
        cutting_problem by_weight = problem, by_thickness = problem;
        by_weight.narrow_weights(low, high);
        by_thickness.narrow_thickness(thinnest);
        for (std::size_t o = problem.loose_count(); o < problem.option_count(); ++o) {
            // Notches count from the least thickness; what a thinner limit leaves of them is looked at by the fronts' oracles.
            const bool even_steps = problem.window(o).stride == 1;
            const auto within = problem.graph().lanes[o].of_weights(problem.front(o).data(), problem.back(o).data(),
                                                                    low * problem.pieces(o), high * problem.pieces(o));
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                    const std::int64_t weight = problem.weight(o, from, to), pieces = problem.pieces(o);
                    const bool may = problem.allows(o, from, to);
                    const bool weighs = may && low * pieces <= weight && weight <= high * pieces;
                    CAPTURE(seed, o, from, to);
                    if (by_weight.allows(o, from, to) != weighs) CHECK(by_weight.allows(o, from, to) == weighs);
                    if (within.to(to).holds(from, within.stride()) != weighs)
                        CHECK(within.to(to).holds(from, within.stride()) == weighs);
                    ++(weighs ? kept : dropped);
                    if (!even_steps) continue;
                    const length back = to == problem.cells() ? r.meat.extent() : r.meat.position(to) - problem.kerf(o);
                    const length thick = back - r.meat.position(from), half = 0.51 * r.meat.step();
                    if (may && thick - half > thinnest) CHECK(by_thickness.allows(o, from, to));
                    if (thick + half < thinnest) CHECK_FALSE(by_thickness.allows(o, from, to));
                }
        }
    }
    CHECK(kept > 1'000);
    CHECK(dropped > 1'000);
}

TEST_CASE("numbers of portions are reached just where count states have a tiling of so many") {
    std::size_t possible = 0, impossible = 0;
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        request r = limited_request(seed + 340'000);
        dice d(seed + 350'000);
        if (d.once_in(2)) add_links(d, r);
        for (cut_spec& spec : r.specs) {
            spec.one_thickness = false;
            if (d.once_in(3)) spec.pieces = static_cast<int>(d.whole(1, 70)); // more than there are bits in a word
        }
        const cutting_problem problem(r.meat, r.specs, r.rules);
        if (problem.start() == problem.cells()) continue;
        constexpr std::size_t most = 150;
        const portion_count_objective count(problem);
        const detail::count_states<portion_count_objective> table(problem, count,
                                                                  {detail::all_portions(problem, most)});
        const detail::order_states orders = detail::order_states_within(problem, detail::most_ordered_entries);
        for (std::size_t n = 0; n <= most; n += 1 + n / 8) {
            CAPTURE(seed, n);
            const bool reached =
                detail::counts_reached(problem, n, orders).possible(problem.graph(), [](std::size_t) { return true; });
            if (reached != table.possible(n)) CHECK(reached == table.possible(n));
            ++(reached ? possible : impossible);
        }
    }
    CHECK(possible > 300);
    CHECK(impossible > 300);
}

TEST_CASE("loose meat that is separable by itself changes no plan") {
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        const request r = limited_request(seed + 360'000);
        const cutting_problem problem(r.meat, r.specs, r.rules);
        const evenness_objective even(problem, 0.1 * to_mass(r.meat.total()));
        const auto both = lexicographic(portion_count_objective(problem), even);
        using objective_type = decltype(both);
        static_assert(separable_loose<std::remove_cv_t<objective_type>>);
        struct hidden {
            using score_type = typename std::remove_cv_t<objective_type>::score_type;
            const objective_type& inner;
            [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
                return inner.slab(o, from, to);
            }
        };
        static_assert(!separable_loose<hidden>);
        const auto by_terms = best_path(problem, both);
        const auto slab_by_slab = best_path(problem, hidden{both});
        CAPTURE(seed);
        CHECK(by_terms.score == slab_by_slab.score);
        CHECK(by_terms.stretches == slab_by_slab.stretches);
    }
}

} // namespace slab_graph_laws
