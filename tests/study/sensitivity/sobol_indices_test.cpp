// Sobol' indices against functions that have them in closed form, and what happens at the edges.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sensitivity/sobol_indices.hpp>

#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "study/sensitivity/closed_forms.hpp"
#include "support/catch.hpp"

namespace sobol_indices_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// Of an estimate with 15 degrees of freedom: half widths of 95 % intervals are 2.13 standard errors, and 5 of these hold each of some
/// dozens of true values.
bool holds(const sobol_index& index, double truth) {
    const double half = 0.5 * (index.interval.high - index.interval.low);
    return std::abs(index.value - truth) <= 2.5 * half + 1e-12;
}
void check(const output_sensitivity& found, const closed_forms::known_indices& known, double within) {
    CHECK_THAT(found.mean, WithinAbs(known.mean, within * std::sqrt(known.variance)));
    CHECK_THAT(found.standard_deviation, WithinRel(std::sqrt(known.variance), within));
    for (std::size_t i = 0; i < known.first.size(); ++i) {
        CAPTURE(i, found.inputs[i].first_order.text(), found.inputs[i].total.text(), known.first[i], known.total[i]);
        CHECK(holds(found.inputs[i].first_order, known.first[i]));
        CHECK(holds(found.inputs[i].total, known.total[i]));
        CHECK_THAT(found.inputs[i].first_order.value, WithinAbs(known.first[i], within));
        CHECK_THAT(found.inputs[i].total.value, WithinAbs(known.total[i], within));
    }
}
std::string message_of(const sensitivity_options& options) {
    try {
        (void)sobol_indices(closed_forms::ishigami_inputs(), closed_forms::ishigami, options);
    } catch (const invalid_input& e) {
        return e.what();
    }
    return "nothing thrown";
}

} // namespace

TEST_CASE("Sobol' indices: Ishigami's function has those of its closed form") {
    const output_sensitivity found = sobol_indices(closed_forms::ishigami_inputs(), closed_forms::ishigami);
    check(found, closed_forms::ishigami_indices(), 0.01);
    // The usual digits: 0.3139, 0.4424, 0; 0.5576, 0.4424, 0.2437 (from memory).
    CHECK_THAT(closed_forms::ishigami_indices().first[0], WithinAbs(0.3139, 5e-5));
    CHECK_THAT(closed_forms::ishigami_indices().total[2], WithinAbs(0.2437, 5e-5));
    CHECK_FALSE(found.inputs[2].first_order.above_zero);
    CHECK_THAT(found.inputs[2].first_order.text(), StartsWith("not distinguishable from zero (at most 0.0"));
    CHECK(found.inputs[2].first_order.value >= 0.0);
    CHECK(found.inputs[0].first_order.above_zero);
    CHECK_THAT(found.inputs[0].first_order.text(), StartsWith("0.31"));
}

TEST_CASE("Sobol' indices: the g-function has those of its closed form, in six dimensions") {
    const closed_forms::g_function g{{0.0, 0.5, 3.0, 9.0, 99.0, 99.0}};
    check(sobol_indices(g.inputs(), g, {.points = 2048}), g.indices(), 0.02);
}

TEST_CASE("Sobol' indices: of a sum, shares of the variance, first order and total alike") {
    const study_inputs inputs({{"a", distribution::normal(10.0, 3.0)},
                               {"b", distribution::uniform(0.0, 6.0)},
                               {"c", distribution::triangular(-1.0, 0.0, 1.0)}});
    const auto sum = [](std::span<const double> x) { return x[0] + 2.0 * x[1] - x[2]; };
    // Variances: 9, 4 × 36/12, 1/6.
    const double v = 9.0 + 12.0 + 1.0 / 6.0;
    check(sobol_indices(inputs, sum, {.points = 512}),
          {16.0, v, {9.0 / v, 12.0 / v, 1.0 / (6.0 * v)}, {9.0 / v, 12.0 / v, 1.0 / (6.0 * v)}}, 0.01);
}

TEST_CASE("Sobol' indices: of a product, those of squared coefficients of variation") {
    const study_inputs inputs({{"a", distribution::lognormal(2.0, 0.6)},
                               {"b", distribution::normal(10.0, 2.0)},
                               {"c", distribution::uniform(1.0, 3.0)}});
    const auto product = [](std::span<const double> x) { return x[0] * x[1] * x[2]; };
    const double a = 0.09, b = 0.04, c = 4.0 / 12.0 / 4.0, all = (1.0 + a) * (1.0 + b) * (1.0 + c), v = all - 1.0;
    check(sobol_indices(inputs, product, {.points = 2048}),
          {40.0,
           1600.0 * v,
           {a / v, b / v, c / v},
           {a * all / (1.0 + a) / v, b * all / (1.0 + b) / v, c * all / (1.0 + c) / v}},
          0.01);
}

TEST_CASE("Sobol' indices: correlated inputs have one of their own as a group, with the variance of the copula") {
    Eigen::MatrixXd correlation = Eigen::MatrixXd::Identity(3, 3);
    correlation(0, 2) = correlation(2, 0) = 0.6;
    const study_inputs inputs({{"a", distribution::normal(0.0, 2.0)},
                               {"b", distribution::normal(0.0, 3.0)},
                               {"c", distribution::normal(0.0, 1.0)}},
                              correlation);
    const auto sum = [](std::span<const double> x) { return x[0] + x[1] + x[2]; };
    const output_sensitivity found = sobol_indices(inputs, sum, {.groups = {{"a and c", {"c", "a"}}}});
    REQUIRE(found.inputs.size() == 2);
    CHECK(found.inputs[0].name == "a and c");
    CHECK(found.inputs[1].name == "b");
    const double together = 4.0 + 1.0 + 2.0 * 0.6 * 2.0, v = together + 9.0;
    check(found, {0.0, v, {together / v, 9.0 / v}, {together / v, 9.0 / v}}, 0.01);

    for (const auto& groups : std::vector<std::vector<input_group>>{{}, {{"a and b", {"a", "b"}}}}) {
        try {
            (void)sobol_indices(inputs, sum, {.groups = groups});
            FAIL("correlated inputs were taken apart");
        } catch (const invalid_input& e) {
            CHECK(
                std::string(e.what()) ==
                "inputs: got a and c correlated, expected independent inputs, or correlated ones together in a group");
        }
    }
}

TEST_CASE("Sobol' indices: a group of independent inputs has the index of all of them") {
    const sensitivity_options options{.groups = {{"x1 and x3", {"x1", "x3"}}}};
    const output_sensitivity found = sobol_indices(closed_forms::ishigami_inputs(), closed_forms::ishigami, options);
    const closed_forms::known_indices known = closed_forms::ishigami_indices();
    const double both = known.first[0] + known.total[2]; // V1 + V13
    check(found, {known.mean, known.variance, {both, known.first[1]}, {both, known.first[1]}}, 0.01);
}

TEST_CASE("Sobol' indices: several outputs at once are those of each alone") {
    const auto both = [](std::span<const double> x, std::span<double> out) {
        out[0] = closed_forms::ishigami(x);
        out[1] = x[2];
    };
    const sensitivities found = sobol_indices(closed_forms::ishigami_inputs(), {"ishigami", "third"}, both);
    REQUIRE(found.outputs.size() == 2);
    output_sensitivity alone = sobol_indices(closed_forms::ishigami_inputs(), closed_forms::ishigami);
    alone.name = "ishigami";
    CHECK(found.outputs[0] == alone);
    CHECK_THAT(found.outputs[1].inputs[2].first_order.value, WithinAbs(1.0, 1e-9));
    CHECK(found.outputs[1].inputs[0].total.value == 0.0);
    CHECK_FALSE(found.outputs[1].inputs[0].total.above_zero);
    CHECK(found.calls == 1024U * 16U * 5U);
}

TEST_CASE("Sobol' indices: what does not vary is an answer, with zeros") {
    for (const double level : {0.0, 5.0, -1e300}) {
        const output_sensitivity found = sobol_indices(closed_forms::ishigami_inputs(),
                                                       [&](std::span<const double>) { return level; }, {.points = 16});
        CHECK_FALSE(found.varies);
        CHECK(found.standard_deviation == 0.0);
        CHECK(found.mean == level);
        for (const auto& i : found.inputs) {
            CHECK(i.first_order == sobol_index{});
            CHECK(i.total.text() == "not distinguishable from zero (at most 0)");
        }
    }
    // Of 1 and what is rounded away only the rounding varies.
    const output_sensitivity rounded = sobol_indices(
        closed_forms::ishigami_inputs(), [](std::span<const double> x) { return 1.0 + x[0] - x[0]; }, {.points = 64});
    CHECK_FALSE(rounded.varies);
}

TEST_CASE("Sobol' indices: certain inputs have none, and a spread far from zero keeps its digits") {
    const study_inputs inputs({{"a", distribution::certain(1e9)}, {"b", distribution::normal(0.0, 1e-3)}});
    const output_sensitivity found =
        sobol_indices(inputs, [](std::span<const double> x) { return x[0] + x[1]; }, {.points = 256});
    CHECK(found.varies);
    CHECK_THAT(found.standard_deviation, WithinRel(1e-3, 0.01));
    CHECK(found.inputs[0].first_order.above_zero == false);
    CHECK(found.inputs[0].total.value == 0.0);
    CHECK_THAT(found.inputs[1].total.value, WithinRel(1.0, 0.02));
}

TEST_CASE("Sobol' indices: what is no number is refused with the point where it came") {
    const study_inputs inputs({{"width", distribution::uniform(1.0, 2.0)}, {"cover", distribution::certain(12.5)}});
    std::size_t calls = 0;
    const auto sick = [&](std::span<const double>, std::span<double> out) {
        out[0] = 1.0;
        out[1] = ++calls == 9 ? std::numeric_limits<double>::quiet_NaN() : static_cast<double>(calls);
    };
    try {
        (void)sobol_indices(inputs, {"count", "cost"}, sick);
        FAIL("NaN was taken");
    } catch (const invalid_input& e) {
        // Four calls a point, and the third point by Gray's code is number 3.
        CHECK_THAT(e.field(),
                   StartsWith("cost at randomisation 0, point 3, sample A (width = 1.") && EndsWith(", cover = 12.5)"));
        CHECK(e.value() == "nan");
    }
}

TEST_CASE("Sobol' indices: what the model throws comes with the point where it did") {
    const study_inputs inputs({{"width", distribution::certain(2.0)}});
    const auto angry = [](std::span<const double>) -> double { throw std::out_of_range("too wide"); };
    try {
        (void)sobol_indices(inputs, angry);
        FAIL("nothing was thrown");
    } catch (const std::runtime_error& e) {
        CHECK(std::string(e.what()) == "the model threw at randomisation 0, point 0, sample A (width = 2): too wide");
        CHECK_THROWS_AS(std::rethrow_if_nested(e), std::out_of_range);
    }
}

TEST_CASE("Sobol' indices: options that are none are refused by name") {
    CHECK_THAT(message_of({.points = 0}), StartsWith("points: got 0, expected a power of two"));
    CHECK_THAT(message_of({.points = 1000}), StartsWith("points: got 1000"));
    CHECK_THAT(message_of({.points = 1}), StartsWith("points: got 1"));
    CHECK_THAT(message_of({.randomisations = 15}), StartsWith("randomisations: got 15, expected 16"));
    CHECK_THAT(message_of({.confidence = 1.0}), StartsWith("confidence: got 1"));
    CHECK_THAT(message_of({.groups = {{"", {"x1"}}}}), StartsWith("groups[0].name"));
    CHECK_THAT(message_of({.groups = {{"g", {}}}}), StartsWith("groups[0].inputs: got none"));
    CHECK_THAT(message_of({.groups = {{"g", {"x9"}}}}), StartsWith("input: got x9"));
    CHECK_THAT(message_of({.groups = {{"g", {"x1"}}, {"h", {"x1"}}}}), StartsWith("groups[1].inputs: got x1"));
    CHECK_THAT(message_of({.groups = {{"x2", {"x1"}}}}), StartsWith("groups: got x2"));
    CHECK_THROWS_AS(sobol_indices(closed_forms::ishigami_inputs(), {}, closed_forms::ishigami), invalid_input);
    CHECK_THROWS_AS(sobol_indices(closed_forms::ishigami_inputs(), {"a", "b"}, closed_forms::ishigami), invalid_input);
    CHECK_THROWS_AS(sobol_indices(closed_forms::ishigami_inputs(),
                                  [](std::span<const double> x) { return 1e200 * x[0]; }, {.points = 16}),
                    invalid_input);
}

} // namespace sobol_indices_test
