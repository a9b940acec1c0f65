// Values drawn together: independent, correlated, and matrices that are none.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/study_inputs.hpp>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace study_inputs_test {

using namespace tranche;
using namespace tranche_test;

std::vector<study_input> three() {
    return {{"weight", distribution::normal(5.0, 0.5)},
            {"cover", distribution::lognormal(6.0, 2.0)},
            {"share", distribution::uniform(0.0, 1.0)}};
}

Eigen::MatrixXd correlations(double weight_cover, double weight_share, double cover_share) {
    Eigen::MatrixXd matrix(3, 3);
    matrix << 1.0, weight_cover, weight_share, weight_cover, 1.0, cover_share, weight_share, cover_share, 1.0;
    return matrix;
}

std::string refused(const Eigen::MatrixXd& matrix) {
    try {
        const study_inputs inputs(three(), matrix);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "accepted";
}

TEST_CASE("independent inputs are the quantiles of their numbers") {
    const study_inputs inputs(three());
    CHECK(inputs.size() == 3);
    CHECK_FALSE(inputs.correlated());
    CHECK(inputs.place_of("cover") == 1);
    std::array<double, 3> out{};
    inputs.values(std::array{0.3, 0.6, 0.9}, out);
    CHECK(out[0] == three()[0].values.quantile(0.3));
    CHECK(out[1] == three()[1].values.quantile(0.6));
    CHECK(out[2] == three()[2].values.quantile(0.9));
}

TEST_CASE("a copula without correlation changes nothing but last bits") {
    const study_inputs inputs(three(), Eigen::MatrixXd::Identity(3, 3));
    CHECK(inputs.correlated());
    std::array<double, 3> out{};
    inputs.values(std::array{0.3, 0.6, 0.9}, out);
    for (std::size_t i = 0; i < 3; ++i)
        CHECK(out[i] == Approx(three()[i].values.quantile(std::array{0.3, 0.6, 0.9}[i])).epsilon(1e-13));
}

TEST_CASE("drawn values have the correlations that were asked for") {
    const study_inputs inputs({{"a", distribution::normal(1.0, 2.0)},
                               {"b", distribution::normal(-3.0, 0.1)},
                               {"c", distribution::uniform(0.0, 1.0)},
                               {"d", distribution::uniform(0.0, 1.0)}},
                              [] {
                                  Eigen::MatrixXd m = Eigen::MatrixXd::Identity(4, 4);
                                  m(0, 1) = m(1, 0) = -0.7;
                                  m(2, 3) = m(3, 2) = 0.6;
                                  return m;
                              }());
    constexpr int n = 20'000;
    Eigen::MatrixXd drawn(n, 4);
    random_stream stream(11);
    for (int i = 0; i < n; ++i) {
        std::array<double, 4> out{};
        inputs.draw(stream, out);
        for (int j = 0; j < 4; ++j) drawn(i, j) = out[static_cast<std::size_t>(j)];
    }
    const Eigen::MatrixXd centred = drawn.rowwise() - drawn.colwise().mean();
    const auto correlation = [&](int i, int j) {
        return centred.col(i).dot(centred.col(j)) / centred.col(i).norm() / centred.col(j).norm();
    };
    // The standard error of a correlation is (1 - r²) / √n, at most 0.0071: four of them.
    CHECK(std::abs(correlation(0, 1) + 0.7) < 0.0145);
    // Of uniform values, 6 / π asin(r / 2), which is their rank correlation (Pearson 1907, from memory).
    CHECK(std::abs(correlation(2, 3) - 6.0 / std::numbers::pi * std::asin(0.3)) < 0.02);
    CHECK(std::abs(correlation(0, 2)) < 0.0285);
}

TEST_CASE("rank correlations become those of the normal values behind them") {
    const Eigen::MatrixXd normal = tranche::normal_correlation(correlations(0.5, -1.0, 0.0));
    CHECK(normal(0, 0) == 1.0);
    CHECK(normal(0, 1) == Approx(2.0 * std::sin(std::numbers::pi / 12.0))); // 0.5176
    CHECK(normal(0, 2) == Approx(-1.0));
    CHECK(normal(1, 2) == 0.0);
}

TEST_CASE("a matrix that is no correlation matrix is refused by name") {
    CHECK(refused(correlations(0.5, 0.2, 0.3)) == "accepted");
    CHECK(refused(Eigen::MatrixXd::Identity(3, 2)) ==
          "correlation: got 3 x 2, expected a square matrix with a row for each input, 3 x 3");
    CHECK(refused(Eigen::MatrixXd::Identity(2, 2)) ==
          "correlation: got 2 x 2, expected a square matrix with a row for each input, 3 x 3");
    Eigen::MatrixXd matrix = correlations(0.5, 0.2, 0.3);
    matrix(1, 0) = 0.4;
    CHECK(refused(matrix) ==
          "correlation of weight and cover: got 0.5 one way and 0.4 the other, expected a symmetric matrix");
    matrix = correlations(0.5, 0.2, 0.3);
    matrix(2, 2) = 0.9;
    CHECK(refused(matrix) == "correlation of share and share: got 0.9, expected 1 on the diagonal");
    CHECK(refused(correlations(std::numeric_limits<double>::quiet_NaN(), 0.2, 0.3)) ==
          "correlation of weight and cover: got nan, expected -1 to 1");
    CHECK(refused(correlations(1.5, 0.2, 0.3)) == "correlation of weight and cover: got 1.5, expected -1 to 1");
    // Not definite: what goes with weight cannot go against what goes with weight.
    CHECK(refused(correlations(0.9, -0.9, 0.9)) == "correlation: got a matrix that is not positive definite, with "
                                                   "share, expected correlations that can hold together");
    // Semidefinite: two inputs that are one.
    CHECK(refused(correlations(1.0, 0.2, 0.2)) == "correlation: got a matrix that is not positive definite, with "
                                                  "cover, expected correlations that can hold together");
}

TEST_CASE("inputs without names, of one name or none at all are refused") {
    CHECK_THROWS_WITH(study_inputs({}), "inputs: got none, expected at least one");
    CHECK_THROWS_WITH(study_inputs({{"", distribution::certain(1.0)}}), "inputs[0].name: got nothing, expected a name");
    CHECK_THROWS_WITH(study_inputs({{"a", distribution::certain(1.0)}, {"a", distribution::certain(2.0)}}),
                      "inputs[1].name: got a, expected a name that no other input has");
    const study_inputs inputs(three());
    CHECK_THROWS_WITH(inputs.place_of("wait"), "input: got wait, expected one of weight, cover, share");
    std::array<double, 3> out{};
    CHECK_THROWS_WITH(inputs.values(std::array{0.5, 0.5}, out), "uniforms: got 2 for 3, expected 3, one an input");
    CHECK_THROWS_AS(inputs.values(std::array{0.5, 1.0, 0.5}, out), invalid_input);
    CHECK_THROWS_AS(study_inputs(three(), correlations(0.1, 0.1, 0.1)).values(std::array{0.5, 1.0, 0.5}, out),
                    invalid_input);
}

} // namespace study_inputs_test
