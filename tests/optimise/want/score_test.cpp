// Scores: what they are, and that one that is not finite never passes for a success, whatever its type.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/optimise/want/lexicographic.hpp>
#include <tranche/optimise/want/score.hpp>
#include <tranche/units/literals.hpp>

namespace score_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace score_samples {

using two_whole = lexicographic_score<std::int64_t, std::int64_t>;

/// A user's score of two parts.
struct joy_and_worth {
    double joy = 0.0;
    double worth = 0.0;
    friend bool operator==(const joy_and_worth&, const joy_and_worth&) = default;
    friend joy_and_worth operator+(const joy_and_worth& a, const joy_and_worth& b) {
        return {a.joy + b.joy, a.worth + b.worth};
    }
    friend bool operator<(const joy_and_worth& a, const joy_and_worth& b) {
        return a.joy != b.joy ? a.joy < b.joy : a.worth < b.worth;
    }
    friend bool is_finite(const joy_and_worth& s) { return is_finite(s.joy) && is_finite(s.worth); }
};

/// Near miss: adds and compares, and cannot say whether it is finite.
struct says_nothing {
    double joy = 0.0;
    friend bool operator==(const says_nothing&, const says_nothing&) = default;
    friend says_nothing operator+(const says_nothing& a, const says_nothing& b) { return {a.joy + b.joy}; }
    friend bool operator<(const says_nothing& a, const says_nothing& b) { return a.joy < b.joy; }
};

} // namespace score_samples

namespace {

using namespace score_samples;

static_assert(additive_score<std::int64_t>);
static_assert(additive_score<double>);
static_assert(additive_score<mass>);
static_assert(additive_score<joy_and_worth>);
static_assert(additive_score<two_whole>);
static_assert(additive_score<lexicographic_score<std::int64_t, joy_and_worth, two_whole>>);
static_assert(!additive_score<says_nothing>);
static_assert(!additive_score<std::pair<int, int>>); // pairs do not add
static_assert(always_finite<two_whole>);
static_assert(!always_finite<lexicographic_score<std::int64_t, double>>);
static_assert(!always_finite<joy_and_worth>);

/// One bad value in the second part of a score, at the start or the end of a slab, or on a whole one.
template <class Score>
struct spoilt {
    using score_type = Score;
    std::size_t option, position;
    bool at_start;
    Score bad;

    [[nodiscard]] Score opening(std::size_t o, std::size_t from) const {
        return at_start && o == option && from == position ? bad : Score{};
    }
    [[nodiscard]] Score closing(std::size_t o, std::size_t to) const {
        return !at_start && o == option && to == position ? bad : Score{};
    }
};
template <class Score>
struct spoilt_whole {
    using score_type = Score;
    spoilt<Score> inner;
    [[nodiscard]] Score slab(std::size_t o, std::size_t from, std::size_t to) const {
        return inner.opening(o, from) + inner.closing(o, to);
    }
};

template <objective O>
void check_never_a_success(const cutting_problem& problem, const O& objective) {
    CHECK_FALSE(best_path(problem, objective).finite);
    for (const auto& planned :
         {plan(problem, objective), plan(problem, objective, {at_least(1, "thin"), at_most(1, "thick")})}) {
        CHECK(planned.stop == stop_reason::objective_not_finite);
        CHECK_FALSE(planned.feasible());
        CHECK_FALSE(planned.proven_optimal());
        CHECK(planned.score_parts.empty());
    }
}

} // namespace

TEST_CASE("a lexicographic score ranks by its first part, then by the next") {
    const two_whole low{{1, 9}}, high{{2, -5}};
    CHECK(low < high);
    CHECK(two_whole{{2, -6}} < high);
    CHECK_FALSE(high < high);
    CHECK(low + high == two_whole{{3, 4}});
    CHECK(two_whole{} == two_whole{{0, 0}});
    CHECK(detail::numbers_of(high) == std::vector<double>{2.0, -5.0});
    CHECK(detail::numbers_of(lexicographic_score<int, two_whole>{{7, high}}) == std::vector<double>{7.0, 2.0, -5.0});
    CHECK(detail::number_of(2.0_kg) == 2.0);
    CHECK(std::isnan(detail::number_of(high)));
}

TEST_CASE("both parts of a lexicographic score use all their 64 bits") {
    const std::int64_t large = std::numeric_limits<std::int64_t>::max() - 1;
    const two_whole a{{large, large}}, b{{large, large - 1}};
    CHECK(b < a);
    CHECK(two_whole{{1, 1}} + a == two_whole{{large + 1, large + 1}});
}

TEST_CASE("numbers, quantities and scores of parts know whether they are finite") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
    CHECK(is_finite(1));
    CHECK(is_finite(1.5));
    for (const double bad : {nan, inf, -inf}) {
        CHECK_FALSE(is_finite(bad));
        CHECK_FALSE(is_finite(mass::from_value(bad)));
        CHECK_FALSE(is_finite(lexicographic_score<std::int64_t, double>{{1, bad}}));
        CHECK_FALSE(is_finite(lexicographic_score<joy_and_worth, int>{{{1.0, bad}, 1}}));
    }
}

TEST_CASE("a score of minus infinity forbids and ranks below all others, whatever its other parts") {
    const double nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
    using number_then_real = lexicographic_score<std::int64_t, double>;
    const number_then_real out{{9, -inf}}, low{{-9, -1.0}};
    CHECK(forbids(-inf));
    CHECK(forbids(mass::from_value(-inf)));
    CHECK(forbids(out));
    CHECK(forbids(lexicographic_score<number_then_real, int>{{out, 1}}));
    CHECK(forbids(out + low));
    CHECK(out < low);
    CHECK_FALSE(low < out);
    CHECK_FALSE(out < out);
    CHECK_FALSE(forbids(low));
    CHECK_FALSE(forbids(std::numeric_limits<std::int64_t>::min()));
    for (const double bad : {nan, inf}) {
        CHECK_FALSE(forbids(bad));
        CHECK_FALSE(forbids(lexicographic_score<double, double>{{bad, -inf}}));
    }
    CHECK_FALSE(forbids(joy_and_worth{-inf, 0.0})); // a user's type that does not say so
}

TEST_CASE("a score of several parts with one that is not finite never ends as success") {
    const profile meat =
        tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm); // invented
    const cutting_problem problem(meat,
                                  {{.name = "thin", .thickness = 2_cm, .gluteus_medius = any_gluteus_medius},
                                   {.name = "thick", .thickness = {4_cm, 6_cm}, .gluteus_medius = any_gluteus_medius}},
                                  {.loose = {{.least_thickness = 3_cm}, {.goes_to = destination::dice}}});
    using number_then_real = lexicographic_score<std::int64_t, double>;
    std::size_t looked_at = 0;
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                             -std::numeric_limits<double>::infinity()})
        for (std::size_t o = 0; o < problem.option_count(); ++o)
            for (std::size_t p = 0; p <= problem.cells(); ++p)
                for (const bool at_start : {true, false}) {
                    bool used = false;
                    for (std::size_t q = 0; q <= problem.cells(); ++q)
                        used = used || (at_start ? problem.allows(o, p, q) : problem.allows(o, q, p));
                    if (!used) continue;
                    ++looked_at;
                    CAPTURE(bad, o, p, at_start);
                    const spoilt<joy_and_worth> joy{o, p, at_start, {0.0, bad}};
                    check_never_a_success(problem, joy);
                    check_never_a_success(problem, spoilt_whole<joy_and_worth>{joy});
                    if (forbids(bad)) continue; // of numbers: those say that a slab is forbidden
                    const spoilt<number_then_real> ranked{o, p, at_start, {{0, bad}}};
                    check_never_a_success(problem, ranked);
                    check_never_a_success(problem, lexicographic(portion_count_objective(problem),
                                                                 spoilt_whole<number_then_real>{ranked}));
                }
    CHECK(looked_at > 100);
}

TEST_CASE("a score may be a quantity") {
    const profile meat = tabulate(prism_loin{.length = 14_cm, .face = {.width = 16_cm, .depth = 7_cm}}, 1_cm);
    const cutting_problem problem(meat, {{.name = "steak", .thickness = 3_cm}}, {});
    struct heaviest {
        using score_type = mass;
        const cutting_problem* problem;
        [[nodiscard]] mass slab(std::size_t o, std::size_t from, std::size_t to) const {
            return problem->is_portion(o) ? to_mass({problem->weight(o, from, to)}) : mass{};
        }
    };
    const tranche::planned planned = plan(problem, heaviest{&problem});
    CHECK(planned.feasible());
    // The prism's 14 cm hold four steaks of 3 cm: 12/14 of it. Sums of four doubles.
    CHECK_THAT(planned.score(), WithinRel(to_mass(meat.total()).value() * 12.0 / 14.0, 1e-8));
    CHECK(planned.gap() == 0.0);
    CHECK(planned.searched.positions == 15);
    CHECK(planned.searched.options == 2);
    CHECK(planned.searched.states == 1);
    CHECK(planned.searched.evaluated() == 30);
}

} // namespace score_test
