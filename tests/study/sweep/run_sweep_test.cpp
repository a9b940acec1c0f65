// Sweeps: means over the same replicates everywhere, impossible points counted, fronts, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sweep/run_sweep.hpp>

#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace run_sweep_test {

using namespace tranche;
using namespace tranche_test;

namespace {

const sweep_design& grid() {
    static const sweep_design made = grid_design({{{"a", "mm"}, {1.0, 2.0, 3.0}}, {{"b", ""}, {10.0, 20.0}}});
    return made;
}
/// a + b / 10 and noise that is the same at each point.
void noisy(std::span<const double> point, const study_replicate& replicate, std::span<double> out) {
    random_stream stream = replicate.stream();
    const double noise = stream.next_uniform() - 0.5;
    out[0] = point[0] + 0.1 * point[1] + noise;
    out[1] = -point[0];
}

} // namespace

TEST_CASE("sweep: a model that draws nothing has a row of its values at each point") {
    const sweep_result result =
        run_sweep(grid(), {{"sum", "mm"}, {"product", ""}}, [](std::span<const double> x, std::span<double> out) {
            out[0] = x[0] + x[1];
            out[1] = x[0] * x[1];
        });
    REQUIRE(result.rows.size() == 12);
    CHECK(result.at(5, 1).mean == 60.0);
    CHECK(result.at(2, 0).mean == 12.0);
    CHECK(result.at(2, 0).point == 2);
    CHECK(result.at(2, 1).output == 1);
    CHECK_FALSE(result.at(0, 0).interval);
    CHECK(result.at(0, 0).count == 1);
    CHECK(result.output_called("product") == 1);
    CHECK(result.axis_called("b") == 1);
    CHECK_THROWS_AS(result.output_called("sums"), invalid_input);
}

TEST_CASE("sweep: points differ by what was varied, for their replicates are the same") {
    const sweep_result result = run_sweep(grid(), {{"value", ""}, {"other", ""}}, noisy, {.replicates = 200});
    for (std::size_t p = 0; p < 6; ++p) {
        const double varied = grid().points[p][0] + 0.1 * grid().points[p][1];
        CHECK_THAT(*result.at(p, 0).mean - *result.at(0, 0).mean, WithinAbs(varied - 2.0, 1e-12));
        // Uniform noise of width 1: sd 1/√12, its mean within 4 standard errors.
        CHECK_THAT(*result.at(p, 0).mean, WithinAbs(varied, 4.0 / std::sqrt(12.0 * 200.0)));
        CHECK_THAT(*result.at(p, 0).standard_deviation, WithinRel(1.0 / std::sqrt(12.0), 0.15));
        CHECK(result.at(p, 0).interval->low < *result.at(p, 0).mean);
        CHECK(result.at(p, 1).standard_deviation == 0.0);
    }
    CHECK_FALSE(run_sweep(grid(), {{"value", ""}, {"other", ""}}, noisy, {.seed = 2, .replicates = 200}) == result);
}

TEST_CASE("sweep: threads give the same bits as one") {
    const sweep_result one = run_sweep(grid(), {{"value", ""}, {"other", ""}}, noisy, {.replicates = 50});
    CHECK(run_sweep(grid(), {{"value", ""}, {"other", ""}}, noisy, {.replicates = 50}, threads(3)) == one);
}

TEST_CASE("sweep: what is impossible is counted and is no part of means") {
    const sweep_result result =
        run_sweep(grid(), {{"value", ""}},
                  [](std::span<const double> x, const study_replicate& r, std::span<double> out) {
                      out[0] = static_cast<double>(r.number());
                      return x[0] < 3.0 && (x[0] < 2.0 || r.number() % 2 == 0);
                  },
                  {.replicates = 4});
    CHECK(result.at(0, 0).mean == 1.5);
    CHECK(result.at(0, 0).impossible == 0);
    CHECK(result.at(2, 0).mean == 1.0);
    CHECK(result.at(2, 0).count == 2);
    CHECK(result.at(2, 0).impossible == 2);
    CHECK_FALSE(result.at(4, 0).mean);
    CHECK(result.at(4, 0).impossible == 4);
}

TEST_CASE("sweep: a design without points is a result without rows") {
    CHECK(run_sweep(grid_design({{{"a", ""}, {}}}), {{"value", ""}}, noisy).rows.empty());
}

TEST_CASE("sweep: the front has those that nothing is better than in all goals") {
    sweep_result result{{{{"a", ""}}, {{0}, {1}, {2}, {3}, {4}, {5}}}, {{"gain", ""}, {"cost", ""}}, {}};
    const std::vector<std::pair<double, double>> figures{{1, 1}, {2, 2}, {2, 3}, {3, 2}, {1, 1}, {9, 0}};
    for (std::size_t p = 0; p < 6; ++p) {
        result.rows.push_back({.point = p, .output = 0, .count = 1, .mean = figures[p].first});
        result.rows.push_back({.point = p, .output = 1, .count = 1, .mean = figures[p].second});
    }
    result.rows[10].mean.reset(); // impossible
    CHECK(front_of(result, {{"gain", true}, {"cost", false}}) == std::vector<std::size_t>{0, 3, 4});
    CHECK(front_of(result, {{"gain", true}}) == std::vector<std::size_t>{3});
    CHECK(front_of(result, {{"cost", false}}) == std::vector<std::size_t>{5});
    CHECK_THROWS_AS(front_of(result, {}), invalid_input);
    CHECK_THROWS_AS(front_of(result, {{"gains", true}}), invalid_input);
}

TEST_CASE("sweep: what is no number and what throws are named with their place") {
    const auto sick = [](std::span<const double> x, const study_replicate& r, std::span<double> out) {
        out[0] = x[0] == 2.0 && r.number() == 3 ? std::numeric_limits<double>::quiet_NaN() : 1.0;
    };
    try {
        (void)run_sweep(grid(), {{"value", ""}}, sick, {.replicates = 8});
        FAIL("NaN was taken");
    } catch (const invalid_input& e) {
        CHECK(e.field() == "value at point 2 (a = 2, b = 10), replicate 3");
        CHECK(e.value() == "nan");
    }
    const auto angry = [](std::span<const double> x, std::span<double> out) {
        out[0] = 0.0;
        if (x[0] > 1.5) throw std::domain_error("too thick");
    };
    for (const unsigned n : {1U, 3U}) try {
            (void)run_sweep(grid(), {{"value", ""}}, angry, {}, threads(n));
            FAIL("nothing was thrown");
        } catch (const std::runtime_error& e) {
            // The first by number, whoever ran it.
            CHECK(std::string(e.what()) == "the model threw at point 2 (a = 2, b = 10), replicate 0: too thick");
            CHECK_THROWS_AS(std::rethrow_if_nested(e), std::domain_error);
        }
}

TEST_CASE("sweep: options and outputs that are none are refused by name") {
    const auto field_of = [](const std::vector<sweep_output>& outputs, const sweep_options& options) {
        try {
            (void)run_sweep(grid(), outputs, noisy, options);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({}, {}) == "outputs");
    CHECK(field_of({{"", ""}}, {}) == "outputs[0].name");
    CHECK(field_of({{"a", ""}, {"a", ""}}, {}) == "outputs[1].name");
    CHECK(field_of({{"a", ""}, {"b", ""}}, {.replicates = 0}) == "replicates");
    CHECK(field_of({{"a", ""}, {"b", ""}}, {.confidence = 1.0}) == "confidence");
}

} // namespace run_sweep_test
