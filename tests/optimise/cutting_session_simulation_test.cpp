// What closing the loop buys, by simulation with a stated knife spread: the direction, with the width of the interval as margin.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include "../../examples/loop_simulation.hpp"
#include "optimise/instances.hpp"

namespace cutting_session_simulation_test {

using namespace example;

TEST_CASE("closing the loop beats following the first plan") {
    const loop_scenario scenario;
    const loop_results results = simulate_loop(scenario, tranche_test::rounds(200));
    const auto gain = [&](way w, way over, double outcome::*what) { return results.gain(w, over, what); };
    // The whole 95 % interval of the paired differences lies on the better side, and the mean as far from zero as the
    // interval is wide: four standard errors, so that other seeds would hardly say otherwise.
    const auto better = [](interval i) { return i.mean > 2.0 * i.half; };
    const auto less = [](interval i) { return i.mean < -2.0 * i.half; };
    CHECK(better(gain(way::weighing_slabs, way::by_thickness, &outcome::in_tolerance)));
    CHECK(less(gain(way::weighing_slabs, way::by_thickness, &outcome::giveaway)));
    CHECK(better(gain(way::weighing_rest, way::by_thickness, &outcome::in_tolerance)));
    CHECK(less(gain(way::weighing_rest, way::by_thickness, &outcome::giveaway)));
    CHECK(better(gain(way::weighing_rest, way::by_thickness, &outcome::value)));
    // Marks along the loin keep a cutter's bias out of all slabs but the first, and are harder to beat.
    CHECK(better(gain(way::weighing_rest, way::by_marks, &outcome::in_tolerance)));
    CHECK(less(gain(way::weighing_rest, way::by_marks, &outcome::giveaway)));
}

TEST_CASE("an exact hand on the loin that was planned gains nothing by weighing") {
    loop_scenario scenario;
    scenario.spreads = {0.0, 0_mm, 0_mm, 0_mm, 0_g, 0.0};
    const loop_results results = simulate_loop(scenario, 2);
    const double planned = results.of(way::by_thickness, &outcome::in_tolerance).mean;
    CHECK(planned > 8.0);
    for (const way w : all_ways) {
        CHECK(results.of(w, &outcome::in_tolerance).mean == planned);
        CHECK(results.of(w, &outcome::giveaway).mean == 0.0);
        // Places inside a cell are told apart to 2^-20 of it and masses to the microgram: far below a hundredth of a dollar.
        CHECK(std::abs(results.gain(w, way::by_thickness, &outcome::value).mean) < 0.01);
    }
}

} // namespace cutting_session_simulation_test
