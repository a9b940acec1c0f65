// The graph of slabs and the searches on it, each held against a look at every slab or against another search.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <type_traits>
#include <vector>

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

TEST_CASE("a lane has just the starts that its window leaves on a fine grid too") {
    std::size_t slabs = 0, long_runs = 0;
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 400'000);
        // Smooth masses leave limits at their distance over many ends, rough ones do not; some cells have none.
        const std::size_t cells = d.whole(1, 220), start = d.whole(0, cells / 3);
        const bool rough = d.once_in(3);
        std::vector<std::int64_t> front(cells + 1), back(cells + 1);
        for (std::size_t i = 0; i < cells; ++i)
            front[i + 1] = front[i] + (d.once_in(40) ? 0
                                                     : 1'000 - static_cast<std::int64_t>(i) +
                                                           static_cast<std::int64_t>(d.whole(0, rough ? 2'000 : 1)));
        const std::int64_t kerf = d.once_in(2) ? 0 : 1'500;
        for (std::size_t i = 1; i < cells; ++i) back[i] = std::max(std::int64_t{0}, front[i] - kerf);
        back[cells] = front[cells];
        detail::option_window w;
        w.least_cells = d.whole(1, 20);
        w.most_cells = w.least_cells + d.whole(0, 30);
        if (d.once_in(8)) w.no_slab_in_front(cells);
        w.first_to_end = d.whole(0, cells);
        w.last_to_end = w.first_to_end + d.whole(0, 30);
        w.first_from = d.once_in(2) ? 0 : d.whole(0, cells / 2);
        w.past_from = d.once_in(2) ? cells + 1 : d.whole(0, cells);
        w.past_to = d.once_in(2) ? cells + 1 : d.whole(0, cells + 1);
        w.least_weight = d.once_in(3) ? 0 : static_cast<std::int64_t>(d.whole(0, 20'000));
        w.most_weight =
            d.once_in(3) ? detail::no_limit : w.least_weight + static_cast<std::int64_t>(d.whole(0, 20'000));
        const auto lane = detail::slab_lane::of_portions(1, start, cells, w, front.data(), back.data());
        std::size_t most = 0, before = 0, alike = 0;
        for (std::size_t to = 0; to <= cells; ++to) {
            std::size_t starts = 0;
            for (std::size_t from = 0; from < cells; ++from) {
                const bool thick = to < cells ? from + w.least_cells <= to && to <= from + w.most_cells
                                              : w.first_to_end <= from && from <= w.last_to_end;
                const std::int64_t weight = back[to] - front[from];
                const bool may = from < to && thick && std::max(start, w.first_from) <= from && from < w.past_from &&
                                 to < w.past_to && (w.least_weight <= 0 || w.least_weight <= weight) &&
                                 weight <= w.most_weight;
                if (lane.to(to).holds(from, 1) != may) {
                    CAPTURE(seed, from, to, weight, w.least_weight, w.most_weight);
                    CHECK(lane.to(to).holds(from, 1) == may);
                }
                starts += may ? 1 : 0;
                if (may && to < cells && to - from < lane.least_cells()) CHECK(to - from >= lane.least_cells());
            }
            slabs += starts;
            if (starts > 0 && to < cells) {
                CHECK(lane.first_end() <= to);
                CHECK(to < lane.past_end());
                most = std::max(most, starts);
                alike = to - lane.to(to).first == before ? alike + 1 : 0;
                before = to - lane.to(to).first;
                if (alike == 20) ++long_runs;
            }
        }
        CHECK(most <= lane.most_starts());
        CHECK(lane.empty() == (most == 0 && lane.to(cells).empty()));
    }
    CHECK(slabs > 10'000);
    CHECK(long_runs >= 10);
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
