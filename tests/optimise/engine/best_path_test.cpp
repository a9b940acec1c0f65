// The engine on problems with a published optimum, on its rule for ties, and on objectives that are not finite.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/loin/models/tapered_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/units/literals.hpp>

#include "optimise/enumeration.hpp"
#include "optimise/instances.hpp"

namespace best_path_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// A rod or a loin of invented size with the same face all along.
profile prism(length extent, length step = 1_cm) {
    return tabulate(prism_loin{.length = extent, .face = {.width = 16_cm, .depth = 7_cm}}, step);
}

cut_spec exactly(const std::string& name, length thickness) {
    return {.name = name, .thickness = thickness, .gluteus_medius = any_gluteus_medius};
}

/// Worth of a portion by its number of cells; loose meat is worth nothing.
struct by_length {
    using score_type = std::int64_t;
    const cutting_problem* problem;
    std::vector<std::int64_t> prices; // of 1, 2, ... cells

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return problem->is_portion(o) ? prices.at(to - from - 1) : 0;
    }
};

/// A tree stem as a loin: a frustum of a cone.
struct stem {
    [[nodiscard]] static double diameter(length at) { return 0.40 - (0.40 - 0.16) * (at / 12_m); } // metres
    [[nodiscard]] static length extent() { return 12_m; }
    [[nodiscard]] static face face_at(length at) {
        face f;
        f.areas[tissue::eye] = std::acos(-1.0) / 4.0 * diameter(at) * diameter(at) * (metre * metre);
        return f;
    }
};

/// Volume of a log in cubic metres × its price by the diameter at the small end.
double log_value(length from, length to) {
    const double d0 = stem::diameter(from), d1 = stem::diameter(to);
    const double cubic_metres = std::acos(-1.0) * ((to - from) / metre) / 12.0 * (d0 * d0 + d0 * d1 + d1 * d1);
    const double slack = 1e-12; // 22 cm and 30 cm are no exact binary fractions
    return cubic_metres * (d1 >= 0.30 - slack ? 5.0 : d1 >= 0.22 - slack ? 3.0 : 1.0);
}

struct by_small_end {
    using score_type = double;
    const cutting_problem* problem;

    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return problem->is_portion(o) ? log_value(problem->meat().position(from), problem->meat().position(to)) : 0.0;
    }
};

/// Everything is worth one and the same, or nothing: only the rule for ties decides.
struct all_the_same {
    using score_type = int;
    [[nodiscard]] static score_type opening(std::size_t /*option*/, std::size_t /*from*/) { return 0; }
    [[nodiscard]] static score_type closing(std::size_t /*option*/, std::size_t /*to*/) { return 0; }
};

/// An objective of a user's with one bad value at one place.
struct spoilt_opening {
    using score_type = double;
    std::size_t option, position;
    double bad;
    [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const {
        return o == option && from == position ? bad : -static_cast<double>(from);
    }
    [[nodiscard]] static score_type closing(std::size_t o, std::size_t to) { return static_cast<double>(to + o); }
};
struct spoilt_closing {
    using score_type = double;
    std::size_t option, position;
    double bad;
    [[nodiscard]] static score_type opening(std::size_t /*o*/, std::size_t from) { return -static_cast<double>(from); }
    [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const {
        return o == option && to == position ? bad : static_cast<double>(to + o);
    }
};
struct spoilt_slab {
    using score_type = double;
    std::size_t option, first, past;
    double bad;
    [[nodiscard]] score_type slab(std::size_t o, std::size_t from, std::size_t to) const {
        return o == option && from == first && to == past ? bad : static_cast<double>(to - from + 10 * o * o);
    }
};

template <objective O>
void check_never_a_success(const cutting_problem& problem, const O& objective) {
    const tranche::planned planned = plan(problem, objective);
    CHECK(planned.stop == stop_reason::objective_not_finite);
    CHECK_FALSE(planned.feasible());
    CHECK_FALSE(planned.proven_optimal());
    CHECK_THAT(planned.why_not(), ContainsSubstring("not finite"));
    CHECK(std::isnan(best_path(problem, objective).score));
}

} // namespace

TEST_CASE("rods of one to ten units sell for the published best prices") {
    // Cormen, Leiserson, Rivest and Stein, Introduction to Algorithms, chapter 15: prices of the lengths 1 to 10, and the
    // best revenues of rods of these lengths (read where another text quotes them).
    const std::vector<std::int64_t> prices{1, 5, 8, 9, 10, 17, 17, 20, 24, 30};
    const std::vector<std::int64_t> best{1, 5, 8, 10, 13, 17, 18, 22, 25, 30};
    std::vector<cut_spec> lengths;
    for (int units = 1; units <= 10; ++units)
        lengths.push_back(exactly(std::to_string(units) + " units", static_cast<double>(units) * 1_cm));
    for (std::size_t rod = 1; rod <= 10; ++rod) {
        const profile meat = prism(static_cast<double>(rod) * 1_cm);
        const cutting_problem problem(meat, lengths, {});
        const by_length objective{&problem, prices};
        CAPTURE(rod);
        CHECK(best_path(problem, objective).score == best[rod - 1]);
        CHECK(plan(problem, objective).feasible());
    }
}

TEST_CASE("a tapering stem is bucked for its published best value") {
    // An instance of our own of the problem of Pnevmaticos and Mann 1972, Forest Products Journal; the values are computed
    // by enumeration in exact rationals of pi.
    const double best = 3.1495513549788874, runner_up = 3.0664038694138775;
    const profile wood = tabulate(stem{}, 10_cm);
    const std::vector<cut_spec> logs{exactly("3 m", 3_m), exactly("4 m", 4_m), exactly("5 m", 5_m)};
    const cutting_problem problem(wood, logs, {});
    const auto found = best_path(problem, by_small_end{&problem});

    REQUIRE(found.stretches.size() == 3);
    const std::vector<grid_slab> five_four_three{
        {0, 50, slab_kind::portions, 2}, {50, 90, slab_kind::portions, 1}, {90, 120, slab_kind::portions, 0}};
    CHECK(found.stretches == five_four_three);
    // Three products and two sums of values below 4: a few units in the last place.
    CHECK_THAT(found.score, WithinULP(best, 8));

    // A pattern is a sequence of logs from the butt; what is too short for a log stays at the top. The empty one counts.
    std::vector<double> values;
    const std::function<void(length, double)> lay = [&](length at, double value) {
        values.push_back(value);
        for (const length& log : {3_m, 4_m, 5_m})
            if (at + log < 12.001_m) lay(at + log, value + log_value(at, at + log));
    };
    lay(0_m, 0.0);
    CHECK(values.size() == 31);
    std::sort(values.rbegin(), values.rend());
    CHECK_THAT(values[0], WithinULP(best, 8));
    CHECK_THAT(values[1], WithinULP(runner_up, 8));

    // The profile weighs the same wood: Simpson's rule is exact for an area of degree two, and the 0.5 t of the butt are
    // counted to a microgram.
    const double butt = to_mass(wood.between(0, 50)) / (densities_at_4_celsius()[tissue::eye] * metre * metre * metre);
    CHECK_THAT(butt * 5.0, WithinRel(log_value(0_m, 5_m), 1e-12));
}

TEST_CASE("a small plan stands where enumeration and every compiler put it") {
    // Invented: 14 cells of 1 cm and a short one, all kinds of limits.
    request r{tabulate(tapered_loin{.length = 14.6_cm,
                                    .rib = {.width = 16_cm, .depth = 7_cm, .fat_cover = 9_mm, .tail = 3_cm},
                                    .sirloin = {.width = 14_cm, .depth = 6_cm, .fat_cover = 6_mm, .tail = 1_cm}},
                       1_cm),
              {{.name = "steak", .thickness = {2_cm, 3_cm}, .portion = {150_g, 210_g}, .trim = {.fat_cover = 4_mm}},
               {.name = "fillet", .thickness = {3_cm, 5_cm}, .portion = {90_g, 160_g}, .pieces = 2, .kerf = 3_mm}},
              {.facing = 6_mm}};
    const small_request all(r);
    const cutting_problem problem(r.meat, r.specs, r.rules);
    const auto found = best_path(problem, kept_mass_objective::portions_then_mass(problem));
    const auto best = all.best<std::int64_t>([&](std::size_t o, std::size_t from, std::size_t to) -> std::int64_t {
        if (!all.is_portion(o)) return 0;
        return all.masses(o, from, to).weight() + all.spec(o).pieces * (r.meat.total().count + 1);
    });
    CHECK(found.score == best);
    const std::vector<grid_slab> expected{{1, 3, slab_kind::portions, 0},
                                          {3, 7, slab_kind::portions, 1},
                                          {7, 11, slab_kind::portions, 1},
                                          {11, 15, slab_kind::portions, 1}};
    CHECK(found.stretches == expected);
}

TEST_CASE("ties go to the earlier option and then to the earlier start") {
    const profile meat = prism(10_cm);
    const cutting_rules rules{.loose = {{.goes_to = destination::dice}, {.goes_to = destination::grind}}};
    const cutting_problem problem(meat, {exactly("steak", 3_cm)}, rules);
    const auto found = best_path(problem, all_the_same{});
    const std::vector<grid_slab> one_loose_piece{{0, 10, slab_kind::loose, 0}};
    CHECK(found.stretches == one_loose_piece);
}

TEST_CASE("a value that is neither finite nor forbids a slab never ends as success") {
    const profile meat = prism(14_cm);
    const cutting_rules rules{
        .facing = 1_cm,
        .loose = {{.goes_to = destination::dice, .least_thickness = 3_cm}, {.goes_to = destination::grind}}};
    const cutting_problem problem(
        meat, {exactly("thin", 2_cm), {.name = "thick", .thickness = {4_cm, 6_cm}, .kerf = 2_mm}}, rules);
    const double inf = std::numeric_limits<double>::infinity();
    const double nan = std::numeric_limits<double>::quiet_NaN();
    std::size_t slabs = 0;
    for (const double bad : {nan, inf})
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            std::vector<bool> opens(problem.cells() + 1), closes(problem.cells() + 1);
            for (std::size_t from = problem.start(); from < problem.cells(); ++from)
                for (std::size_t to = from + 1; to <= problem.cells(); ++to) {
                    if (!problem.allows(o, from, to)) continue;
                    CAPTURE(bad, o, from, to);
                    check_never_a_success(problem, spoilt_slab{o, from, to, bad});
                    opens[from] = closes[to] = true;
                    ++slabs;
                }
            for (std::size_t p = 0; p <= problem.cells(); ++p) {
                CAPTURE(bad, o, p);
                if (opens[p]) check_never_a_success(problem, spoilt_opening{o, p, bad});
                if (closes[p]) check_never_a_success(problem, spoilt_closing{o, p, bad});
            }
        }
    CHECK(slabs > 300);
    CHECK(plan(problem, spoilt_slab{99, 0, 0, nan}).stop == stop_reason::optimal); // never looked at
}

TEST_CASE("sums that overflow to infinity never end as success") {
    const profile meat = prism(14_cm);
    const cutting_problem problem(meat, {exactly("thin", 2_cm)}, {});
    struct huge {
        using score_type = double;
        [[nodiscard]] static score_type slab(std::size_t /*o*/, std::size_t /*from*/, std::size_t /*to*/) {
            return 0.4 * std::numeric_limits<double>::max();
        }
    };
    check_never_a_success(problem, huge{});
}

} // namespace best_path_test
