// What-ifs in room that is kept: they say what what-ifs with plans say, whatever was asked before, and nothing is allocated.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

#include <tranche/optimise/explain/what_if.hpp>
#include <tranche/optimise/explain/what_if_workspace.hpp>
#include <tranche/optimise/plans/even_portions.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>

#include "optimise/counted_allocations.hpp"
#include "optimise/instances.hpp"

namespace what_if_workspace_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

limit_steps steps_for(const profile& meat) {
    return {.thickness = meat.step(), .portion = to_mass({meat.total().count / 100}), .share = 0.05};
}

/// Whether the room says the same as the calls with plans, both of gains and of changes.
template <want W>
void check_same(what_if_workspace& room, const profile& meat, const cutting_request& asked, const W& want) {
    const limit_steps steps = steps_for(meat);
    const auto costs = limit_costs(meat, asked, want, steps);
    const auto gains = room.limit_gains(meat, asked, want, steps);
    REQUIRE(gains.size() == costs.size());
    for (std::size_t i = 0; i < gains.size(); ++i) {
        CAPTURE(detail::owner_of(asked, gains[i].which), name_of(gains[i].which));
        CHECK(gains[i] == costs[i]);
    }
    const auto check_moves = [&](const auto& moves, const auto& changes) {
        REQUIRE(moves.size() == changes.size());
        for (std::size_t i = 0; i < moves.size(); ++i) {
            CHECK(moves[i].which == changes[i].which);
            CHECK(moves[i].from == changes[i].from);
            CHECK(moves[i].to == changes[i].to);
            CHECK(moves[i].portions == changes[i].planned.plan.portion_count());
        }
        CHECK(room.ended() == search_end::by_itself);
    };
    check_moves(room.one_more_portion(meat, asked, want, steps), one_more_portion(meat, asked, want, steps));
    check_moves(room.nearest_feasible(meat, asked, want, steps), nearest_feasible(meat, asked, want, steps));
}

/// Scores without a table of its own: portions by what they weigh.
struct weight_alone {
    using score_type = std::int64_t;
    const cutting_problem* problem;

    [[nodiscard]] score_type opening(std::size_t option, std::size_t from) const {
        return problem->is_portion(option) ? -problem->front(option)[from] : 0;
    }
    [[nodiscard]] score_type closing(std::size_t option, std::size_t to) const {
        return problem->is_portion(option) ? problem->back(option)[to] : 0;
    }
};

} // namespace

TEST_CASE("what-ifs in room that is kept say what what-ifs with plans say") {
    what_if_workspace room;
    std::size_t linked = 0, impossible = 0;
    for (std::uint64_t seed = 0; seed < rounds(24); ++seed) {
        dice d(seed + 840'000);
        request r = request_of_size(d, 15, 60);
        if (seed % 2 == 1) add_limits(d, r);
        if (seed % 4 == 2) add_links(d, r);
        if (seed % 8 == 5) add_loose_rules(d, r);
        cutting_request asked{r.specs, r.rules, {}};
        if (seed % 6 == 4) asked.demands = some_demands(d, r);
        CAPTURE(seed);
        linked += cutting_problem(r.meat, r.specs, r.rules).links_slabs();
        impossible += !plan(r.meat, asked, most_portions()).feasible();
        check_same(room, r.meat, asked, most_portions());
        if (seed % 3 == 0) check_same(room, r.meat, asked, best_value(random_prices(d, r.specs)));
        if (seed % 5 != 0) continue;
        charged_weights charged;
        for (const cut_spec& spec : r.specs) charged[spec.name] = to_mass({r.meat.total().count / 12});
        check_same(room, r.meat, asked, least_giveaway(charged));
    }
    CHECK(linked > 2);
    CHECK(impossible > 1);
}

TEST_CASE("cuts of one thickness gain the same whether the first plan's score is known or not") {
    what_if_workspace room;
    std::size_t gained = 0;
    for (std::uint64_t seed = 0; seed < rounds(15); ++seed) {
        dice d(seed + 850'000);
        request r = request_of_size(d, 15, 50);
        for (cut_spec& spec : r.specs) spec.one_thickness = true;
        const cutting_request asked{r.specs, r.rules, {}};
        const limit_steps steps = steps_for(r.meat);
        const double now = plan(r.meat, asked, most_portions()).score();
        CAPTURE(seed);
        for (const limit_gain& gain : room.limit_gains(r.meat, asked, most_portions(), steps)) {
            const planned then = plan(r.meat, moved(asked, gain.which, gain.to), most_portions());
            CHECK(gain.gain == then.score() - now);
            gained += gain.binds();
        }
    }
    CHECK(gained > 5);
}

TEST_CASE("least waste gains by a limit what more there is in portions, and by count only where that is the same") {
    std::size_t more_meat = 0, more_portions = 0;
    for (std::uint64_t seed = 0; seed < rounds(25); ++seed) {
        dice d(seed + 870'000);
        request r = request_of_size(d, 20, 80);
        for (cut_spec& spec : r.specs) spec.kerf = {}; // with one, evening out moves a microgram
        CAPTURE(seed);
        what_if_workspace room;
        for (const limit_gain& gain :
             room.limit_gains(r.meat, {r.specs, r.rules, {}}, least_waste(), steps_for(r.meat))) {
            CAPTURE(name_of(gain.which), gain.gain, gain.more_in_portions.count, gain.more_portions);
            const std::int64_t meat = gain.more_in_portions.count;
            CHECK(gain.binds() == (meat > 0 || (meat == 0 && gain.more_portions > 0)));
            more_meat += meat > 0;
            more_portions += meat == 0 && gain.more_portions > 0;
        }
    }
    CHECK(more_meat > 20);
    CHECK(more_portions > 0);
}

TEST_CASE("what-ifs allocate nothing once the room has seen as much, whatever the names and trims of cuts") {
    std::vector<request> made;
    std::vector<cutting_request> requests;
    for (std::uint64_t seed = 0; seed < 12; ++seed) {
        dice d(seed + 860'000);
        request& r = made.emplace_back(request_of_size(d, 20, 150));
        if (seed % 2 == 1) add_limits(d, r);
        for (cut_spec& spec : r.specs) {
            spec.one_thickness = false;
            spec.name += " with a name too long to be kept inside of a string";
        }
        requests.push_back({r.specs, r.rules, {}});
    }
    const auto want = [](const cutting_problem& problem) { return weight_alone{&problem}; };
    std::size_t spent = 0; // by the want itself, on its objective
    const auto counted = [&](const cutting_problem& problem) {
        const std::size_t before = allocations();
        auto objective = kept_mass_objective::portions_then_mass(problem);
        spent += allocations() - before;
        return objective;
    };
    what_if_workspace room;
    const auto ask = [&](const auto& by) {
        double sum = 0.0;
        for (std::size_t k = 0; k < made.size(); ++k) {
            const profile& meat = made[k].meat;
            const limit_steps steps = steps_for(meat);
            for (const limit_gain& gain : room.limit_gains(meat, requests[k], by, steps)) sum += gain.gain;
            for (const limit_move& move : room.one_more_portion(meat, requests[k], by, steps))
                sum += static_cast<double>(move.portions);
            for (const limit_move& move : room.nearest_feasible(meat, requests[k], by, steps))
                sum += static_cast<double>(move.portions);
        }
        return sum;
    };
    const double first = ask(want) + ask(counted);
    spent = 0;
    const std::size_t before = allocations();
    const double second = ask(want) + ask(counted);
    CHECK(allocations() - before == spent);
    CHECK(first == second);
    CHECK(spent > 0);
}

} // namespace what_if_workspace_laws
