// What must hold between plans of related requests.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <tranche/cut/verify.hpp>
#include <tranche/loin/calibration/calibrated.hpp>
#include <tranche/loin/models/measured_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/value_objective.hpp>

#include "optimise/instances.hpp"

namespace plans_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

std::pair<std::size_t, std::int64_t> count_then_mass(const cutting_plan& p) {
    return {p.portion_count(), balance_of(p).portion_total().count};
}
std::pair<std::int64_t, std::size_t> mass_then_count(const cutting_plan& p) {
    return {balance_of(p).portion_total().count, p.portion_count()};
}

struct best_of {
    std::pair<std::size_t, std::int64_t> most;
    std::pair<std::int64_t, std::size_t> least;
    explicit best_of(const request& r)
        : most(count_then_mass(most_portions(r.meat, r.specs, r.rules).plan)),
          least(mass_then_count(least_waste(r.meat, r.specs, r.rules).plan)) {}
    [[nodiscard]] bool no_worse_than(const best_of& other) const { return most >= other.most && least >= other.least; }
};

std::vector<std::tuple<std::size_t, slab_kind, double, double>> cuts_of(const cutting_plan& p) {
    std::vector<std::tuple<std::size_t, slab_kind, double, double>> cuts;
    for (const slab& s : p.slabs) cuts.emplace_back(s.option, s.kind, s.start.value(), s.thickness.value());
    return cuts;
}

} // namespace

TEST_CASE("a wider weight window never does worse") {
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 200'000);
        request r = request_of_size(d, 20, 300);
        const best_of before(r);
        cut_spec& spec = r.specs[d.whole(0, r.specs.size() - 1)];
        spec.portion.min = d.between(0.3, 1.0) * spec.portion.min;
        spec.portion.max = d.between(1.0, 2.0) * spec.portion.max;
        const best_of after(r);
        CAPTURE(seed);
        CHECK(after.no_worse_than(before));
        better += !before.no_worse_than(after);
    }
    CHECK(better > 20);
}

TEST_CASE("a wider thickness window never does worse, once it is as wide as the grid") {
    // A narrower one is met by the nearest position, which a wider one may not hold.
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 210'000);
        request r = request_of_size(d, 20, 300);
        for (cut_spec& spec : r.specs)
            spec.thickness.max = std::max(spec.thickness.max, spec.thickness.min + 1.01 * r.meat.step());
        const best_of before(r);
        cut_spec& spec = r.specs[d.whole(0, r.specs.size() - 1)];
        spec.thickness = {d.between(0.5, 1.0) * spec.thickness.min, d.between(1.0, 1.5) * spec.thickness.max};
        const best_of after(r);
        CAPTURE(seed);
        CHECK(after.no_worse_than(before));
        better += !before.no_worse_than(after);
    }
    CHECK(better > 20);
}

TEST_CASE("one spec more never does worse, and one rule less strict neither") {
    std::size_t better = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 220'000);
        request r = request_of_size(d, 20, 300);
        const best_of before(r);
        r.specs.insert(r.specs.begin() + static_cast<std::ptrdiff_t>(d.whole(0, r.specs.size())),
                       random_spec(d, r.meat, "one more", 3.0, 25.0));
        const best_of after(r);
        CAPTURE(seed);
        CHECK(after.no_worse_than(before));
        better += !before.no_worse_than(after);

        for (loose_cut& loose : r.rules.loose) loose.least_thickness *= 0.5;
        for (cut_spec& spec : r.specs) spec.gluteus_medius = any_gluteus_medius;
        CHECK(best_of(r).no_worse_than(after));
    }
    CHECK(better > 20);
}

TEST_CASE("the order of the specs changes no score") {
    for (std::uint64_t seed = 0; seed < rounds(200); ++seed) {
        dice d(seed + 230'000);
        request r = request_of_size(d, 20, 300);
        const price_list<usd> prices = random_prices(d, r.specs);
        const auto value = [&] {
            const cutting_problem problem(r.meat, r.specs, r.rules);
            return best_path(problem, value_objective<usd>(problem, prices)).score;
        };
        const best_of before(r);
        const std::int64_t value_before = value();
        std::sort(r.specs.begin(), r.specs.end(), [](const cut_spec& a, const cut_spec& b) { return a.name > b.name; });
        std::reverse(r.rules.loose.begin(), r.rules.loose.end());
        CAPTURE(seed);
        const best_of after(r);
        CHECK(after.most == before.most);
        CHECK(after.least == before.least);
        CHECK(value() == value_before);
    }
}

TEST_CASE("a loin twice as heavy with limits twice as high is cut at the same places") {
    for (std::uint64_t seed = 0; seed < rounds(100); ++seed) {
        dice d(seed + 240'000);
        const length step = detail::snapped(d.between(1.0, 5.0) * millimetre);
        const tapered_loin loin{
            .length = d.between(30, 200) * step, .rib = random_readings(d), .sirloin = random_readings(d)};
        request r{tabulate(loin, step), {}, {}};
        for (const char* name : {"cut A", "cut B"}) r.specs.push_back(random_spec(d, r.meat, name, 3.0, 25.0));
        request twice{tabulate(calibrated_loin<tapered_loin>{loin, 2.0}, step), r.specs, r.rules};
        for (cut_spec& spec : twice.specs) spec.portion = {2.0 * spec.portion.min, 2.0 * spec.portion.max};
        // Doubling is exact in binary; what is rounded to a microgram can only turn a tie, and random loins have none.
        CAPTURE(seed);
        CHECK(cuts_of(most_portions(twice.meat, twice.specs, twice.rules).plan) ==
              cuts_of(most_portions(r.meat, r.specs, r.rules).plan));
        CHECK(cuts_of(least_waste(twice.meat, twice.specs, twice.rules).plan) ==
              cuts_of(least_waste(r.meat, r.specs, r.rules).plan));
    }
}

TEST_CASE("the same input gives the same plan") {
    for (std::uint64_t seed = 0; seed < rounds(50); ++seed) {
        dice once(seed + 250'000), again(seed + 250'000);
        const request r = request_of_size(once, 20, 300), s = request_of_size(again, 20, 300);
        CHECK(cuts_of(most_portions(r.meat, r.specs, r.rules).plan) ==
              cuts_of(most_portions(s.meat, s.specs, s.rules).plan));
    }
}

TEST_CASE("every plan holds by a second opinion, and loose meat between portions is never too thin") {
    std::size_t between = 0;
    for (std::uint64_t seed = 0; seed < rounds(300); ++seed) {
        dice d(seed + 260'000);
        const request r = request_of_size(d, 20, 300);
        const price_list<usd> prices = random_prices(d, r.specs);
        for (const planned& planned : {most_portions(r.meat, r.specs, r.rules), least_waste(r.meat, r.specs, r.rules),
                                       best_value(r.meat, r.specs, prices, r.rules)}) {
            CAPTURE(seed);
            CHECK(verify(planned.plan, r.meat, r.specs, r.rules) == std::vector<std::string>{});
            CHECK(balance_of(planned.plan).total() == r.meat.total());
            CHECK(planned.feasible() == (planned.plan.portion_count() > 0));
            const std::vector<slab>& slabs = planned.plan.slabs;
            for (std::size_t i = 1; i + 1 < slabs.size(); ++i) {
                if (slabs[i].kind != slab_kind::loose || slabs[i - 1].kind == slab_kind::facing) continue;
                // A nanometre is what binary fractions of a position may lose.
                CHECK(slabs[i].thickness > r.rules.loose[slabs[i].option].least_thickness - 1e-9 * metre);
                ++between;
            }
        }
    }
    CHECK(between > 100);
}

} // namespace plans_laws
