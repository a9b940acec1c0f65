// Charts of errors over numbers of points: slopes are powers, zero errors are gaps.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/report/charts/convergence_chart.hpp>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "report/charts/chart_checks.hpp"
#include "support/catch.hpp"

namespace convergence_chart_test {

using namespace tranche;
using namespace tranche_test;
using chart_checks::checked;

TEST_CASE("convergence: errors that fall as n^(-1/2) lie on the guide of that slope") {
    convergence_chart chart{"", {"points"}, {"error", "g"}, {{"plain", {}}}};
    for (int k = 4; k < 14; ++k) chart.courses[0].errors.push_back({std::pow(2.0, k), std::pow(2.0, -0.5 * k)});
    const auto elements = checked(convergence_svg(chart));
    const auto guides = of_kind(elements, "guide");
    REQUIRE(guides.size() == 2);
    const auto course = chart_checks::points_of(of_kind(elements, "line").at(0)),
               half = chart_checks::points_of(guides[0]), one = chart_checks::points_of(guides[1]);
    CHECK_THAT(half.front().y, WithinAbs(course.front().y, 0.02));
    CHECK_THAT(half.back().y, WithinAbs(course.back().y, 0.02));
    CHECK_THAT(one.back().y - one.front().y, WithinAbs(2.0 * (half.back().y - half.front().y), 0.05));
}

TEST_CASE("convergence: an error of zero is a gap that its name tells of") {
    const convergence_chart chart{
        "", {"points"}, {"error"}, {{"net", {{16, 0.5}, {32, 0.0}, {64, 0.1}}}, {"", {{16, 0.0}}}}};
    const auto elements = checked(convergence_svg(chart));
    std::vector<std::string> names;
    for (const auto& e : of_kind(elements, "line-name")) names.push_back(e.text);
    CHECK(std::count(names.begin(), names.end(), "net (exact in gaps)") == 1);
    CHECK(std::count(names.begin(), names.end(), "exact in gaps") == 1);
}

TEST_CASE("convergence: nothing, one point, and errors of any size are pictures") {
    CHECK(of_kind(checked(convergence_svg({})), "nothing").size() == 1);
    for (const std::size_t count : {1U, 3U, 10000U})
        for (const double size : {1.0, 1e-300, 1e300}) {
            CAPTURE(count, size);
            convergence_chart chart{"", {"points"}, {"error", "g"}, {{"a", {}}, {"b", {}}}};
            for (std::size_t i = 1; i <= count; ++i) {
                const auto n = static_cast<double>(i);
                chart.courses[0].errors.push_back({n, size / n});
                chart.courses[1].errors.push_back({n, size});
            }
            (void)checked(convergence_svg(chart));
        }
}

TEST_CASE("convergence: what is no error is refused by its name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const convergence_chart& chart) {
        try {
            (void)convergence_svg(chart);
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of({"", {}, {}, {{"a", {{16, 1.0}, {32, nan}}}}}) == "courses[0].errors[1].error");
    CHECK(field_of({"", {}, {}, {{"a", {{16, 1.0}, {32, -1.0}}}}}) == "courses[0].errors[1].error");
    CHECK(field_of({"", {}, {}, {{"a", {{0, 1.0}}}}}) == "courses[0].errors[0].points");
    CHECK(field_of({"", {}, {}, {{"a", {{32, 1.0}, {16, 1.0}}}}}) == "courses[0].errors[1].points");
    CHECK(field_of({"", {}, {}, std::vector<error_course>(15)}) == "courses");
}

} // namespace convergence_chart_test
