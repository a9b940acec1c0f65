// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/pictures/detail/spread_labels.hpp>

#include <cmath>
#include <cstddef>
#include <limits>
#include <random>
#include <vector>

#include "support/catch.hpp"

namespace spread_labels_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("labels that have room stay where they wish to be") {
    CHECK(detail::spread_labels({}, 1.0, 0.0, 10.0).empty());
    CHECK(detail::spread_labels({4.0}, 1.0, 0.0, 10.0) == std::vector<double>{4.0});
    CHECK(detail::spread_labels({1.0, 3.0, 9.0}, 1.0, 0.0, 10.0) == std::vector<double>{1.0, 3.0, 9.0});
}

TEST_CASE("labels that crowd each other share the move") {
    CHECK(detail::spread_labels({5.0, 5.0}, 1.0, 0.0, 10.0) == std::vector<double>{4.5, 5.5});
    CHECK(detail::spread_labels({0.0, 0.0, 0.0}, 1.0, 0.0, 10.0) == std::vector<double>{0.0, 1.0, 2.0});
    CHECK(detail::spread_labels({10.0, 10.0}, 1.0, 0.0, 10.0) == std::vector<double>{9.0, 10.0});
    // More labels than room: the gap shrinks.
    CHECK(detail::spread_labels({5.0, 5.0, 5.0}, 20.0, 0.0, 10.0) == std::vector<double>{0.0, 5.0, 10.0});
}

TEST_CASE("labels without any room stand halfway between the bounds") {
    CHECK(detail::spread_labels({5.0}, 1.0, 3.0, 2.0) == std::vector<double>{2.5});
    CHECK(detail::spread_labels({5.0}, 1.0, 3.0, 3.0) == std::vector<double>{3.0});
    CHECK(detail::spread_labels({-1.0, 5.0, 9.0}, 1.0, 3.0, 2.0) == std::vector<double>{2.5, 2.5, 2.5});
    CHECK(detail::spread_labels({}, 1.0, 3.0, 2.0).empty());
}

TEST_CASE("spread labels keep their order, their gap and their bounds") {
    std::mt19937 random(7);
    for (int round = 0; round < 300; ++round) {
        std::vector<double> wishes;
        double at = 0.0;
        const auto count = random() % 20 + 1;
        for (std::size_t i = 0; i < count; ++i) wishes.push_back(at += static_cast<double>(random() % 100) * 0.05);
        const std::vector<double> places = detail::spread_labels(wishes, 2.0, -3.0, 60.0);
        REQUIRE(places.size() == wishes.size());
        for (std::size_t i = 0; i < places.size(); ++i) {
            // Up to 20 labels of gap 2 fit into 63; 1e-9 is far above the rounding of sums below 100.
            CHECK(places[i] >= -3.0 - 1e-9);
            CHECK(places[i] <= 60.0 + 1e-9);
            if (i > 0) CHECK(places[i] - places[i - 1] >= 2.0 - 1e-9);
        }
    }
}

TEST_CASE("spread labels move no more than the best of all placements on a grid") {
    const std::vector<double> wishes{2.0, 2.25, 4.5};
    const auto moves = [&](double a, double b, double c) {
        return std::pow(a - wishes[0], 2) + std::pow(b - wishes[1], 2) + std::pow(c - wishes[2], 2);
    };
    double best = std::numeric_limits<double>::infinity();
    for (int a = 0; a <= 96; ++a)
        for (int b = a + 24; b <= 96; ++b)
            for (int c = b + 24; c <= 96; ++c) best = std::min(best, moves(a / 12.0, b / 12.0, c / 12.0));
    const std::vector<double> places = detail::spread_labels(wishes, 2.0, 0.0, 8.0);
    CHECK(moves(places[0], places[1], places[2]) <= best + 1e-12);
}

} // namespace spread_labels_test
