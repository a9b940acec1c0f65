// A plain function as a study: the same as drawn by hand, whoever runs it and from wherever it is resumed, and what fails is named.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/study_of_inputs.hpp>

#include <cmath>
#include <cstdint>
#include <limits>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include <tranche/study/run/run_study.hpp>

#include "support/catch.hpp"

namespace study_of_inputs_test {

using namespace tranche;
using namespace tranche_test;

namespace {

study_inputs box() {
    return study_inputs({{"length", distribution::uniform(0.3, 0.5)},
                         {"face", distribution::normal(0.0125, 0.001)},
                         {"slip", distribution::triangular(-0.001, 0.0, 0.002)}});
}
const std::vector<study_output> weighed{{"weight", 1e-9, 100'000}, {"off by", 1e-6, 10}};

void weigh(std::span<const double> x, std::span<double> out) {
    out[0] = x[0] * x[1] * 1060.0;
    out[1] = x[2];
}

/// The same, drawn and rounded by hand.
struct by_hand {
    study_inputs inputs = box();
    [[nodiscard]] study_outline outline() const { return {weighed, {}}; }
    void operator()(const study_replicate& replicate, std::span<std::int64_t> outputs) const {
        random_stream stream = replicate.stream();
        std::vector<double> x(3), y(2);
        inputs.draw(stream, x);
        weigh(x, y);
        outputs[0] = std::llround(y[0] / 1e-9);
        outputs[1] = std::llround(y[1] / 1e-6);
    }
};

} // namespace

TEST_CASE("a study of inputs is the study drawn by hand, whoever runs it and whoever may stop it") {
    const study_of_inputs model(box(), weighed, weigh);
    const study_options options{.seed = 7, .replicates = 1003};
    const study_result known = run_study(by_hand{}, options);
    CHECK(run_study(model, options) == known);
    CHECK(run_study(model, options, threads(3)) == known);
    study_options asked = options;
    asked.stop = [] { return false; };
    CHECK(run_study(model, asked) == known);
    study_result parts = run_study(model, options, shard(1, 3));
    parts.merge(run_study(model, options, shard(0, 3)));
    CHECK_FALSE(parts == known);
    parts.merge(run_study(model, options, shard(2, 3)));
    CHECK(parts == known);
    study_options fewer = options;
    fewer.replicates = 333; // amid a batch
    CHECK(resume_study(run_study(model, fewer), model, options) == known);
}

TEST_CASE("numbers are rounded to whole ones, halves away from zero") {
    std::vector<double> given{0.49999999999999994, 0.5, 1.5, 2.5, -0.5, -2.5, -2.4999999999999996, 0x1p46 + 0.5};
    std::vector<std::int64_t> expected;
    for (const double number : given) expected.push_back(std::llround(number));
    for (std::size_t i = 0; i < given.size(); ++i) {
        const study_of_inputs model(box(), {{"x"}}, [&](std::span<const double>) { return given[i]; });
        const study_result result = run_study(model, {.replicates = 1});
        CHECK(*result["x"].least() == static_cast<double>(expected[i]));
    }
}

TEST_CASE("a replicate whose output is no number, or in which the function throws, fails alone and is named") {
    const study_inputs inputs({{"u", distribution::uniform(0.0, 1.0)}});
    const auto some = [](std::span<const double> x) -> double {
        if (x[0] < 0.02) return std::numeric_limits<double>::quiet_NaN();
        if (x[0] < 0.04) throw std::runtime_error("the blade broke");
        if (x[0] < 0.06) return 1e300;
        return x[0];
    };
    const study_result result = run_study(study_of_inputs(inputs, {{"y", 1e-6, 1000}}, some), {.replicates = 1000});
    CHECK(result.replicates() == 1000);
    CHECK(result.failed() > 30);
    CHECK(result.failed() < 100);
    CHECK(result["y"].count() == 1000 - result.failed());
    CHECK(*result["y"].least() >= 0.06);
    bool broke = false, none = false, large = false;
    for (const study_failure& failure : result.failures()) {
        random_stream stream(1, failure.replicate);
        const double u = stream.next_uniform();
        CHECK(u < 0.06);
        broke = broke || failure.message == "the blade broke";
        none = none || failure.message.find("y: got nan at u = ") == 0;
        large = large || failure.message.find("y: got 1e+300 at u = ") == 0;
    }
    CHECK(broke);
    CHECK(none);
    CHECK(large);
    CHECK(run_study(study_of_inputs(inputs, {{"y", 1e-6, 1000}}, some), {.replicates = 1000}, threads(2)) == result);
}

TEST_CASE("outputs that are none, or too many for a function that returns one, are refused") {
    const auto one = [](std::span<const double> x) { return x[0]; };
    CHECK_THROWS_AS(study_of_inputs(box(), {}, one), invalid_input);
    CHECK_THROWS_AS(study_of_inputs(box(), {}, weigh), invalid_input);
    CHECK_THROWS_AS(study_of_inputs(box(), weighed, one), invalid_input);
    CHECK_THROWS_AS(study_of_inputs(box(), {{"x", -1.0, 1}}, one), invalid_input);
}

} // namespace study_of_inputs_test
