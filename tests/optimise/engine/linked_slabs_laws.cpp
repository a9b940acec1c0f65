// What must hold between plans of requests with zones, notches, remnants, orders and common thicknesses.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <utility>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/front.hpp>
#include <tranche/optimise/plans/plans.hpp>

#include "optimise/instances.hpp"

namespace linked_slabs_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

/// A request with all kinds of limits, on a grid that thicknesses and notches lie on.
request limited_request(dice& d) {
    request r = request_of_size(d, 40, 200);
    for (cut_spec& spec : r.specs) {
        spec.kerf = {};
        spec.thickness.min = std::ceil(spec.thickness.min / r.meat.step()) * r.meat.step();
        spec.thickness.max = spec.thickness.min + static_cast<double>(d.whole(0, 12)) * r.meat.step();
    }
    add_limits(d, r);
    add_links(d, r);
    return r;
}

std::int64_t best_mass(const request& r) {
    const cutting_problem problem(r.meat, r.specs, r.rules);
    return best_path(problem, portion_mass_objective(problem)).score;
}

/// Another loin, seen from the other end.
template <class Model>
struct from_the_other_end {
    Model inner;
    [[nodiscard]] length extent() const { return inner.extent(); }
    [[nodiscard]] face face_at(length at) const { return inner.face_at(inner.extent() - at); }
};

} // namespace

TEST_CASE("every limit that is dropped or widened never does worse") {
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        dice d(seed + 850'000);
        request r = limited_request(d);
        CAPTURE(seed);
        std::int64_t before = best_mass(r);
        const auto dropped = [&](const char* what) {
            const std::int64_t after = best_mass(r);
            CAPTURE(what);
            CHECK(after >= before);
            better += after > before;
            before = after;
        };
        for (cut_spec& spec : r.specs) spec.zone = {0.5 * spec.zone.min, 1.5 * spec.zone.max};
        dropped("wider zones");
        for (cut_spec& spec : r.specs) spec.one_thickness = false;
        dropped("one thickness");
        for (cut_spec& spec : r.specs) { // what is nearest to a notch may lie half a step beside it
            if (spec.thickness_step > length{})
                spec.thickness = {spec.thickness.min - 0.5 * r.meat.step(), spec.thickness.max + 0.5 * r.meat.step()};
            spec.thickness_step = {};
        }
        dropped("notches");
        r.rules.remnant = {0.5 * r.rules.remnant.thickness, 0.5 * r.rules.remnant.weight};
        dropped("half the remnant");
        r.rules.order.clear();
        dropped("the order");
        for (cut_spec& spec : r.specs) spec.zone = {};
        dropped("zones");
    }
    CHECK(better > 50);
}

TEST_CASE("a loin twice as long, with all lengths and weights twice as large, is cut at the same positions") {
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 860'000);
        const length step = detail::snapped(d.between(1.0, 5.0) * millimetre);
        tapered_loin loin{.length = static_cast<double>(d.whole(40, 150)) * step,
                          .rib = random_readings(d),
                          .sirloin = random_readings(d)};
        request r{tabulate(loin, step), {}, {}};
        for (const char* name : {"cut A", "cut B"}) r.specs.push_back(random_spec(d, r.meat, name, 3.0, 25.0));
        for (cut_spec& spec : r.specs) spec.trim = {};
        add_limits(d, r);
        add_links(d, r);
        loin.length *= 2.0;
        request twice{tabulate(loin, 2.0 * step), r.specs, r.rules};
        for (cut_spec& spec : twice.specs) { // doubling is exact in binary
            spec.thickness = {2.0 * spec.thickness.min, 2.0 * spec.thickness.max};
            spec.portion = {2.0 * spec.portion.min, 2.0 * spec.portion.max};
            spec.zone = {2.0 * spec.zone.min, 2.0 * spec.zone.max};
            spec.kerf *= 2.0;
            spec.thickness_step *= 2.0;
        }
        twice.rules.remnant = {2.0 * r.rules.remnant.thickness, 2.0 * r.rules.remnant.weight};
        for (loose_cut& loose : twice.rules.loose) loose.least_thickness *= 2.0;
        CAPTURE(seed);
        const cutting_problem small(r.meat, r.specs, r.rules), large(twice.meat, twice.specs, twice.rules);
        CHECK(best_path(small, kept_mass_objective::portions_then_mass(small)).stretches ==
              best_path(large, kept_mass_objective::portions_then_mass(large)).stretches);
    }
}

TEST_CASE("a loin seen from the other end gives as many portions of the same mass") {
    // Where limits are the same from both ends: no facing, no kerf, no remnant, any gluteus medius, a whole last cell.
    for (std::uint64_t seed = 0; seed < rounds(60); ++seed) {
        dice d(seed + 870'000);
        const length step = detail::snapped(d.between(1.0, 5.0) * millimetre);
        const auto cells = static_cast<double>(d.whole(40, 150));
        const tapered_loin loin{.length = cells * step, .rib = random_readings(d), .sirloin = random_readings(d)};
        request r{tabulate(loin, step), {}, {}};
        for (const char* name : {"cut A", "cut B", "cut C"}) r.specs.push_back(random_spec(d, r.meat, name, 3.0, 25.0));
        for (cut_spec& spec : r.specs) {
            spec.kerf = {};
            spec.gluteus_medius = any_gluteus_medius;
        }
        add_limits(d, r);
        add_links(d, r);
        r.rules.remnant = {};
        r.rules.facing = {};
        request mirrored{tabulate(from_the_other_end<tapered_loin>{loin}, step), r.specs, r.rules};
        for (cut_spec& spec : mirrored.specs) {
            const quantity_range<length> zone = spec.zone;
            spec.zone = {std::max(loin.length - zone.max, length{}), std::max(loin.length - zone.min, length{})};
        }
        for (cut_order& order : mirrored.rules.order) std::swap(order.first, order.then);
        const auto plans = {most_portions(r.meat, r.specs, r.rules),
                            most_portions(mirrored.meat, mirrored.specs, mirrored.rules)};
        const cutting_plan &here = plans.begin()->plan, &there = (plans.begin() + 1)->plan;
        CAPTURE(seed);
        CHECK(here.portion_count() == there.portion_count());
        // Cells are rounded to a microgram a tissue and trimmed to another one; the total closes on the heaviest.
        const std::int64_t off = (balance_of(here).portion_total() - balance_of(there).portion_total()).count;
        CHECK(std::abs(off) < static_cast<std::int64_t>(20.0 * cells));
    }
}

TEST_CASE("fronts keep an order of cuts") {
    std::size_t points = 0;
    for (std::uint64_t seed = 0; seed < rounds(20); ++seed) {
        dice d(seed + 880'000);
        request r = request_of_size(d, 40, 120);
        while (r.specs.size() < 2) r = request_of_size(d, 40, 120);
        add_limits(d, r);
        r.rules.order = {{r.specs[1].name, r.specs[0].name}};
        const auto front = count_and_waste_front(r.meat, r.specs, r.rules);
        const planned most = most_portions(r.meat, r.specs, r.rules), least = least_waste(r.meat, r.specs, r.rules);
        CAPTURE(seed);
        CHECK(front.empty() == (most.plan.portion_count() == 0));
        for (const front_point& p : front) CHECK(verify(p.plan, r.meat, r.specs, r.rules).empty());
        points += front.size();
        if (front.empty()) continue;
        CHECK(front.front().portions == most.plan.portion_count());
        CHECK(front.back().waste == least.plan.total - balance_of(least.plan).portion_total());
    }
    CHECK(points > 20);
}

} // namespace linked_slabs_laws
