// Designs of sweeps: grids in order, nets evenly spread, and what is refused.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/sweep/sweep_design.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "support/catch.hpp"

namespace sweep_design_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("grid design: all combinations, the last axis fastest") {
    const sweep_design grid = grid_design({{{"thickness", "in"}, {1.0, 1.5}}, {{"price", "USD/lb"}, {7.0, 8.0, 9.0}}});
    CHECK(grid.axes == std::vector<sweep_axis>{{"thickness", "in"}, {"price", "USD/lb"}});
    CHECK(grid.points ==
          std::vector<std::vector<double>>{{1.0, 7.0}, {1.0, 8.0}, {1.0, 9.0}, {1.5, 7.0}, {1.5, 8.0}, {1.5, 9.0}});
    CHECK(grid_design({{{"a", ""}, {}}, {{"b", ""}, {1.0}}}).points.empty());
}

TEST_CASE("even steps: both ends exact and steps alike") {
    CHECK(even_steps(0.75, 1.75, 5) == std::vector<double>{0.75, 1.0, 1.25, 1.5, 1.75});
    CHECK(even_steps(2.0, 3.0, 1) == std::vector<double>{2.0});
    CHECK(even_steps(2.0, 3.0, 0).empty());
    CHECK(even_steps(0.1, 0.7, 7).back() == 0.7);
}

TEST_CASE("net design: each of n equal parts of each axis has one of n points") {
    const sweep_design net = net_design({{{"a", ""}, 10.0, 20.0}, {{"b", ""}, -1.0, 1.0}, {{"c", ""}, 5.0, 5.0}}, 64);
    REQUIRE(net.points.size() == 64);
    for (std::size_t axis = 0; axis < 2; ++axis) {
        const double least = axis == 0 ? 10.0 : -1.0, wide = axis == 0 ? 10.0 : 2.0;
        std::vector<int> parts(64);
        for (const auto& p : net.points) ++parts[static_cast<std::size_t>((p[axis] - least) / wide * 64.0)];
        CHECK(std::all_of(parts.begin(), parts.end(), [](int n) { return n == 1; }));
    }
    CHECK(net.points[17][2] == 5.0);
    CHECK(net_design({{{"a", ""}, 0.0, 1.0}}, 8, 1) == net_design({{{"a", ""}, 0.0, 1.0}}, 8, 1));
    CHECK_FALSE(net_design({{{"a", ""}, 0.0, 1.0}}, 8, 1) == net_design({{{"a", ""}, 0.0, 1.0}}, 8, 2));
}

TEST_CASE("designs: what is none is refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field_of = [](const auto& f) {
        try {
            f();
        } catch (const invalid_input& e) {
            return e.field();
        }
        return std::string("nothing thrown");
    };
    CHECK(field_of([] { (void)grid_design({}); }) == "axes");
    CHECK(field_of([] { (void)grid_design({{{"", ""}, {1.0}}}); }) == "axes[0].name");
    CHECK(field_of([] { (void)grid_design({{{"a", ""}, {1.0}}, {{"a", ""}, {1.0}}}); }) == "axes[1].name");
    CHECK(field_of([&] { (void)grid_design({{{"a", ""}, {1.0, nan}}}); }) == "points[1].a");
    CHECK(field_of([] {
              (void)grid_design({{{"a", ""}, even_steps(0, 1, 4000)}, {{"b", ""}, even_steps(0, 1, 4000)}});
          }) == "axes");
    CHECK(field_of([] { (void)net_design({{{"a", ""}, 0.0, 1.0}}, 12); }) == "count");
    CHECK(field_of([] { (void)net_design({{{"a", ""}, 0.0, 1.0}}, 0); }) == "count");
    CHECK(field_of([] { (void)net_design({{{"a", ""}, 1.0, 0.0}}, 8); }) == "a");
    CHECK(field_of([&] { (void)net_design({{{"a", ""}, nan, 0.0}}, 8); }) == "a");
    CHECK(field_of([] { (void)net_design({}, 8); }) == "axes");
    CHECK(field_of([] { validate(sweep_design{{{"a", ""}}, {{1.0, 2.0}}}); }) == "points[0]");
}

} // namespace sweep_design_test
