// Value of information against decisions whose value of information is known in closed form.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sensitivity/information_value.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace information_value_test {

using namespace tranche;
using namespace tranche_test;

namespace {

/// E max(0, X) of a normal X: mean Φ(mean / sd) + sd φ(mean / sd) (Raiffa and Schlaifer 1961, the unit normal loss integral, from memory).
double gain_of(double mean, double sd) {
    if (sd == 0.0) return std::max(mean, 0.0);
    const double z = mean / sd, density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
    return mean * 0.5 * std::erfc(-z / std::numbers::sqrt2) + sd * density;
}
/// To do nothing, or something that is worth 0.5 + 2 z1 - z2 + 0.25 z3.
void worths(std::span<const double> z, std::span<double> out) {
    out[0] = 0.0;
    out[1] = 0.5 + 2.0 * z[0] - z[1] + 0.25 * z[2];
}
study_inputs normals() {
    return study_inputs({{"a", distribution::normal(0.0, 1.0)},
                         {"b", distribution::normal(0.0, 1.0)},
                         {"c", distribution::normal(0.0, 1.0)}});
}
void check(const information_value& found, double truth, double within) {
    CAPTURE(found.name, found.text(), truth);
    CHECK_THAT(found.gain, WithinAbs(truth, within));
    CHECK(found.interval.low - within <= truth);
    CHECK(truth <= found.interval.high + within);
    CHECK(found.gain >= found.interval.low);
    CHECK(found.gain <= found.interval.high);
}

} // namespace

TEST_CASE("value of information: of one normal risk, the unit normal loss integral") {
    const information_values found = value_of_information(normals(), {"leave it", "do it"}, worths);
    CHECK(found.best == 1);
    CHECK_THAT(found.decisions[1].mean, WithinAbs(0.5, 0.002));
    // Half a per cent of what is at stake (sd 2.3): 32 classes lose about 0.002 of it, sixteen nets of 1024 the rest.
    check(found.inputs[0], gain_of(0.5, 2.0) - 0.5, 0.01);
    check(found.inputs[1], gain_of(0.5, 1.0) - 0.5, 0.01);
    check(found.inputs[2], gain_of(0.5, 0.25) - 0.5, 0.01);
    check(found.everything, gain_of(0.5, std::sqrt(4.0 + 1.0 + 0.0625)) - 0.5, 0.01);
    CHECK(found.most_first()[0].name == "a");
    // Another decision is made where the mean given the input is below zero: Φ(-0.25), Φ(-0.5), Φ(-2), to a class or so.
    CHECK_THAT(found.inputs[0].changes, WithinAbs(0.4013, 0.035));
    CHECK_THAT(found.inputs[1].changes, WithinAbs(0.3085, 0.035));
    CHECK_THAT(found.everything.changes, WithinAbs(0.4121, 0.005));
}

TEST_CASE("value of information: what knowing a correlated input tells of others counts") {
    Eigen::MatrixXd correlation = Eigen::MatrixXd::Identity(3, 3);
    correlation(0, 2) = correlation(2, 0) = 0.8;
    const study_inputs inputs({{"a", distribution::normal(0.0, 1.0)},
                               {"b", distribution::normal(0.0, 1.0)},
                               {"c", distribution::normal(0.0, 1.0)}},
                              correlation);
    const information_values found = value_of_information(inputs, {"leave it", "do it"}, worths);
    check(found.inputs[0], gain_of(0.5, 2.0 + 0.8 * 0.25) - 0.5, 0.01);
    check(found.inputs[1], gain_of(0.5, 1.0) - 0.5, 0.01);
    check(found.inputs[2], gain_of(0.5, 0.25 + 0.8 * 2.0) - 0.5, 0.01);
}

TEST_CASE("value of information: an input that changes no decision is worth nothing, and never less") {
    const auto far = [](std::span<const double> z, std::span<double> out) {
        out[0] = z[0];
        out[1] = 10.0 + z[0] + 0.1 * z[1];
    };
    const information_values found = value_of_information(normals(), {"a", "b"}, far);
    for (const auto& v : found.inputs) {
        CHECK(v.gain == 0.0);
        CHECK(v.interval.high == 0.0);
        CHECK_FALSE(v.above_zero);
        CHECK(v.changes == 0.0);
        CHECK(v.text() == "not distinguishable from zero (at most 0)");
    }
    CHECK(found.everything.gain == 0.0);
}

TEST_CASE("value of information: noise is not taken for information") {
    // The worths differ by what no single input tells of: the sign of the product of two.
    const auto crossed = [](std::span<const double> z, std::span<double> out) {
        out[0] = 0.0;
        out[1] = z[0] * z[1];
    };
    // Of 60 intervals of 95 % from nothing some 1.5 lie above zero, as far as they are exact; of more than 6 the chance is 10^-3.
    int above = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed)
        for (const auto& v :
             value_of_information(normals(), {"a", "b"}, crossed, {.points = 256, .seed = seed}).inputs) {
            above += v.above_zero;
            CHECK(v.gain >= 0.0);
            CHECK(v.gain < 0.05);
        }
    CAPTURE(above);
    CHECK(above <= 6);
    const information_values found = value_of_information(normals(), {"a", "b"}, crossed);
    // E max(0, z1 z2) = E|z1 z2| / 2 = 1 / π.
    CHECK_THAT(found.everything.gain - std::max(0.0, found.decisions[1].mean), WithinAbs(1.0 / std::numbers::pi, 0.01));
}

TEST_CASE("value of information: of a coin, half of what is at stake") {
    const study_inputs inputs({{"coin", distribution::empirical({0.0, 1.0})}, {"always", distribution::certain(3.0)}});
    const auto bet = [](std::span<const double> x, std::span<double> out) {
        out[0] = x[0] == 1.0 ? 1.0 : -1.0;
        out[1] = -out[0];
    };
    const information_values found =
        value_of_information(inputs, {"heads", "tails"}, bet, {.points = 64, .classes = 5});
    check(found.inputs[0], 1.0, 1e-12);
    CHECK(found.inputs[0].above_zero);
    CHECK_THAT(found.inputs[0].changes, WithinAbs(0.5, 1e-12));
    CHECK(found.inputs[1] == information_value{.name = "always"});
}

TEST_CASE("value of information: nothing tells more than everything") {
    const auto three = [](std::span<const double> z, std::span<double> out) {
        out[0] = 0.1;
        out[1] = z[0] + 0.3 * z[1] * z[2];
        out[2] = -z[1] + 0.5 * z[2];
    };
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        const information_values found =
            value_of_information(normals(), {"a", "b", "c"}, three, {.points = 256, .seed = seed});
        for (const auto& v : found.inputs) CHECK(v.interval.low <= found.everything.interval.high);
        CHECK(found == value_of_information(normals(), {"a", "b", "c"}, three, {.points = 256, .seed = seed}));
    }
}

TEST_CASE("value of information: one decision alone leaves nothing to know") {
    const information_values found = value_of_information(
        normals(), {"only"}, [](std::span<const double> z, std::span<double> out) { out[0] = z[0]; }, {.points = 64});
    CHECK(found.best == 0);
    for (const auto& v : found.inputs) CHECK(v.gain == 0.0);
    CHECK(found.everything.gain == 0.0);
}

TEST_CASE("value of information: bad options, no decisions and what is no number are refused by name") {
    const auto field_of = [](const std::vector<std::string>& decisions, const information_options& options) {
        try {
            (void)value_of_information(normals(), decisions, worths, options);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({"a", "b"}, {.points = 100}) == "points");
    CHECK(field_of({"a", "b"}, {.points = 0}) == "points");
    CHECK(field_of({"a", "b"}, {.points = 1U << 21U}) == "points");
    CHECK(field_of({"a", "b"}, {.randomisations = 4}) == "randomisations");
    CHECK(field_of({"a", "b"}, {.classes = 1}) == "classes");
    CHECK(field_of({"a", "b"}, {.confidence = 0.0}) == "confidence");
    CHECK(field_of({}, {}) == "decisions");
    const auto sick = [](std::span<const double>, std::span<double> out) {
        out[0] = out[1] = std::numeric_limits<double>::infinity();
    };
    try {
        (void)value_of_information(normals(), {"leave it", "do it"}, sick);
        FAIL("infinity was taken");
    } catch (const invalid_input& e) {
        CHECK_THAT(e.field(), StartsWith("leave it at randomisation 0, point 0 (a = "));
    }
}

} // namespace information_value_test
