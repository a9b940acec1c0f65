// Where a sweep looks: all combinations of stated values, or a net of points spread evenly over ranges.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include <tranche/study/random/sobol_points.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/shown.hpp>
#include <tranche/units/detail/unfused.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// What is varied: its name, and the unit of its numbers, for people and tables ("" for plain numbers).
struct sweep_axis {
    std::string name{}, unit{};

    friend bool operator==(const sweep_axis&, const sweep_axis&) = default;
};

/// Values of an axis, in the order in which they are gone through.
struct sweep_values {
    sweep_axis axis{};
    std::vector<double> values{};

    friend bool operator==(const sweep_values&, const sweep_values&) = default;
};

/// A range of an axis, both ends included.
struct sweep_range {
    sweep_axis axis{};
    double least = 0.0, most = 1.0;

    friend bool operator==(const sweep_range&, const sweep_range&) = default;
};

/// Points of a sweep; each has a coordinate for each axis.
struct sweep_design {
    std::vector<sweep_axis> axes{};
    std::vector<std::vector<double>> points{};

    friend bool operator==(const sweep_design&, const sweep_design&) = default;
};

/// So many values from one end to the other at equal steps, both ends exact; of one value the first end.
[[nodiscard]] inline std::vector<double> even_steps(double from, double to, std::size_t count) {
    std::vector<double> values;
    for (std::size_t i = 0; i < count; ++i) {
        const double part = count > 1 ? static_cast<double>(i) / static_cast<double>(count - 1) : 0.0;
        values.push_back(part == 1.0 ? to : from + detail::unfused(part * (to - from)));
    }
    return values;
}

/// Throws `invalid_input`, naming it, for no axes, a name that is empty or stands twice, a point of another number of coordinates and
/// one that is not finite.
template <class = detail::when_called>
TRANCHE_COLD void validate(const sweep_design& design) {
    if (design.axes.empty()) throw invalid_input("axes", "none", "at least one");
    for (std::size_t a = 0; a < design.axes.size(); ++a) {
        const std::string field = "axes[" + std::to_string(a) + "].name";
        if (design.axes[a].name.empty()) throw invalid_input(field, "nothing", "a name");
        for (std::size_t b = 0; b < a; ++b)
            if (design.axes[a].name == design.axes[b].name)
                throw invalid_input(field, design.axes[a].name, "a name that no other axis has");
    }
    for (std::size_t p = 0; p < design.points.size(); ++p) {
        const std::string field = "points[" + std::to_string(p) + ']';
        if (design.points[p].size() != design.axes.size())
            throw invalid_input(field, std::to_string(design.points[p].size()) + " coordinates",
                                std::to_string(design.axes.size()) + ", one an axis");
        for (std::size_t a = 0; a < design.axes.size(); ++a)
            if (!std::isfinite(design.points[p][a]))
                throw invalid_input(field + '.' + design.axes[a].name, detail::shown(design.points[p][a]),
                                    "a finite number");
    }
}

/// All combinations, the last axis fastest: a grid. An axis without values leaves no points. Throws `invalid_input` as `validate`, and
/// for more than 10^7 points. O(points × axes).
template <class = detail::when_called>
[[nodiscard]] sweep_design grid_design(const std::vector<sweep_values>& axes) {
    sweep_design made;
    std::size_t count = axes.empty() ? 0 : 1;
    for (const sweep_values& a : axes) {
        made.axes.push_back(a.axis);
        count *= a.values.size();
        if (count > 10'000'000) throw invalid_input("axes", "more than 10^7 combinations", "fewer values");
    }
    for (std::size_t p = 0; p < count; ++p) {
        std::vector<double> point(axes.size());
        std::size_t rest = p;
        for (std::size_t a = axes.size(); a-- > 0; rest /= axes[a].values.size())
            point[a] = axes[a].values[rest % axes[a].values.size()];
        made.points.push_back(std::move(point));
    }
    validate(made);
    return made;
}

/// So many scrambled Sobol' points (`sobol_points`) spread over the ranges: each axis alone, and any few of them together, are covered
/// evenly, with far fewer points than a grid of many axes has. `count` is a power of two, 1 to 2^20. Throws `invalid_input` for other
/// counts, for ends that are not finite or in the wrong order, and as `validate`. O(points × axes).
template <class = detail::when_called>
[[nodiscard]] sweep_design net_design(const std::vector<sweep_range>& ranges, std::uint32_t count,
                                      std::uint64_t seed = 1) {
    if (!std::has_single_bit(count) || count > (1U << 20U))
        throw invalid_input("count", std::to_string(count), "a power of two, 1 to 2^20");
    sweep_design made;
    for (const sweep_range& r : ranges) {
        if (!std::isfinite(r.least) || !std::isfinite(r.most - r.least))
            throw invalid_input(r.axis.name, detail::shown(r.least) + " to " + detail::shown(r.most), "finite ends");
        if (r.most < r.least)
            throw invalid_input(r.axis.name, detail::shown(r.least) + " to " + detail::shown(r.most),
                                "ends in rising order");
        made.axes.push_back(r.axis);
    }
    validate(made);
    const sobol_points net(ranges.size(), seed);
    std::vector<double> place(ranges.size());
    for (std::uint32_t p = 0; p < count; ++p) {
        net.point(p, place);
        for (std::size_t a = 0; a < ranges.size(); ++a)
            place[a] = ranges[a].least + detail::unfused(place[a] * (ranges[a].most - ranges[a].least));
        made.points.push_back(place);
    }
    return made;
}

} // namespace tranche
