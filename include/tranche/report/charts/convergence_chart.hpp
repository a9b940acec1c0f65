// How fast an error falls with the number of points, beside what plain and scrambled sampling promise, as SVG.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <tranche/report/charts/chart_axis.hpp>
#include <tranche/report/charts/detail/chart_paper.hpp>
#include <tranche/report/charts/detail/chart_scale.hpp>
#include <tranche/report/charts/line_chart.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/require.hpp>

namespace tranche {

/// The error with so many points.
struct error_with {
    double points = 0.0, error = 0.0; ///< points above zero; an error of zero is exact

    friend bool operator==(const error_with&, const error_with&) = default;
};

struct error_course {
    std::string name{};
    std::vector<error_with> errors{}; ///< by rising numbers of points

    friend bool operator==(const error_course&, const error_course&) = default;
};

struct convergence_chart {
    std::string title{};
    chart_axis points{.title = "points"}, error{.title = "error"}; ///< drawn logarithmic
    std::vector<error_course> courses{};                           ///< at most 14

    friend bool operator==(const convergence_chart&, const convergence_chart&) = default;
};

/// Errors over numbers of points, both logarithmic, and from where the first course starts two lines to compare slopes with, thin and grey:
/// n^(-1/2), of plain random points, and n^(-1). A line has a gap where an error is zero, which has no logarithm, and its name
/// says so. 960 by 426 pixels, self-contained, with a description; `name` begins the ids. Throws `invalid_input` naming what is wrong
/// for a number that is not finite, an error below zero, points not above it or not rising, and more than 14 courses. O(points).
template <class = detail::when_called>
[[nodiscard]] std::string convergence_svg(const convergence_chart& chart, const std::string& name = "convergence") {
    if (chart.courses.size() > detail::most_lines - 2)
        throw invalid_input("courses", std::to_string(chart.courses.size()),
                            "at most 14, which is what can be told apart");
    line_chart lines{
        .title = chart.title.empty() ? "How fast the error falls" : chart.title, .x = chart.points, .y = chart.error};
    lines.x.logarithmic = lines.y.logarithmic = true;
    double first = 0.0, last = 0.0, start = 0.0;
    for (std::size_t i = 0; i < chart.courses.size(); ++i) {
        chart_line course{.name = chart.courses[i].name};
        bool exact = false;
        for (std::size_t k = 0; k < chart.courses[i].errors.size(); ++k) {
            const error_with& e = chart.courses[i].errors[k];
            const std::string field = detail::element_of("courses", i) + "." + detail::element_of("errors", k);
            detail::require_positive(e.points, field + ".points");
            detail::require_not_negative(e.error, field + ".error");
            if (k > 0 && !(e.points >= course.points.back().x))
                throw invalid_input(field + ".points", detail::shown(e.points), "at least those before");
            chart_point place{.x = e.points};
            if (e.error > 0.0)
                place.y = e.error;
            else
                exact = true;
            if (place.y && start == 0.0) first = e.points, start = e.error;
            last = std::max(last, e.points);
            course.points.push_back(place);
        }
        if (exact) course.name += course.name.empty() ? "exact in gaps" : " (exact in gaps)";
        lines.lines.push_back(std::move(course));
    }
    if (last > first && start > 0.0)
        for (const double power : {0.5, 1.0}) {
            chart_line slope{.name = power < 1.0 ? "n^(-1/2)" : "n^(-1)", .points = {}, .guide = true};
            slope.points.push_back({.x = first, .y = start});
            const double below = start * std::pow(first / last, power);
            slope.points.push_back({.x = last, .y = below > 0.0 ? below : start});
            lines.lines.push_back(std::move(slope));
        }
    return line_chart_svg(lines, name);
}

} // namespace tranche
