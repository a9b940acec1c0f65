// What the check of a mesh finds, how many and where.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/detail/nested_boxes.hpp>
#include <tranche/loin/mesh/mesh_faults.hpp>

#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

namespace mesh_faults_test {

using namespace tranche;
using namespace tranche_test;

namespace {

std::string complaint_about(const triangle_mesh& mesh) {
    try {
        validate(mesh);
    } catch (const invalid_input& e) {
        CHECK(e.field() == "mesh");
        return e.value();
    }
    return "nothing";
}

triangle_mesh turned_over(triangle_mesh mesh, std::initializer_list<std::size_t> which) {
    for (const std::size_t t : which) std::swap(mesh.triangles[t][1], mesh.triangles[t][2]);
    return mesh;
}

} // namespace

TEST_CASE("closed surfaces pass") {
    CHECK(complaint_about(box(0.1, 0.2, 0.3)) == "nothing");
    CHECK(complaint_about(frustum(7, 3.0, 1.0, 5.0)) == "nothing");
    CHECK(complaint_about(ball(0.1, 12, 9)) == "nothing");
    CHECK(complaint_about(bumpy_loin(24, 30)) == "nothing");
    CHECK(faults_of(bumpy_loin(24, 30)).closed());
}

TEST_CASE("a hole is three open edges, at the place of the missing triangle") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    mesh.triangles.erase(mesh.triangles.begin() + 2); // 4 5 7, in the top: its neighbours are 4 7 6, 0 1 5 and 1 7 5
    const mesh_report report = faults_of(mesh);
    CHECK(report.open_edges.count == 3);
    // The first triangle with an open edge is now number 2 (counted from 0), on the diagonal from (0, 0) to (0.1, 0.2).
    CHECK(report.open_edges.first == 2);
    CHECK(complaint_about(mesh) == "3 open edges (first: triangle 3 at (50, 100, 300) mm)");
}

TEST_CASE("one triangle the wrong way round is found and named") {
    CHECK(complaint_about(turned_over(box(0.1, 0.2, 0.3), {7})) ==
          "1 triangle the wrong way round (triangle 8 at (0, 200, 0) mm)");
}

TEST_CASE("several triangles the wrong way round are counted") {
    const std::string found = complaint_about(turned_over(ball(0.1, 16, 12), {20, 21, 200}));
    CHECK_THAT(found, StartsWith("3 triangles the wrong way round (first: triangle 21 at ("));
}

TEST_CASE("an inside-out surface is recognised as such") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
    CHECK(faults_of(mesh).inside_out);
    CHECK(complaint_about(mesh) == "a surface that is inside out, with all 12 triangles the wrong way round");
}

TEST_CASE("a hollow has to lie in a piece that is meat") {
    const triangle_mesh hollow = box(0.02, 0.02, 0.02);
    CHECK(faults_of(together(box(0.1, 0.1, 0.1), moved(hollow, {0.04, 0.04, 0.04}), true)).closed());
    CHECK(faults_of(together(box(0.1, 0.1, 0.1), moved(hollow, {0.2, 0, 0}))).closed()); // two pieces of meat
    const triangle_mesh stray = together(box(0.1, 0.1, 0.1), moved(hollow, {0.2, 0, 0}), true);
    CHECK_FALSE(faults_of(stray).inside_out); // as a whole it has meat
    CHECK_THAT(complaint_about(stray), StartsWith("1 piece inside out with nothing around it (triangle 13 at (200, "));
}

TEST_CASE("hollows are looked for in four times as many pieces with little more than four times the work") {
    std::array<double, 2> looks{};
    for (const std::size_t n : {1000U, 4000U}) {
        // Each crumb is a box; the odd ones are asked for. None has another around it, so that no search ends early.
        const triangle_mesh mesh = crumbs(n);
        std::vector<mesh_bounds> meat, hollows;
        for (std::size_t i = 0; i < n; ++i) {
            mesh_bounds box;
            for (std::size_t v = 8 * i; v < 8 * i + 8; ++v) box.add(mesh.vertices[v]);
            (i % 2 == 0 ? meat : hollows).push_back(box);
        }
        const detail::nested_boxes around(meat);
        std::size_t looked_at = 0;
        for (const mesh_bounds& hollow : hollows) REQUIRE_FALSE(around.any_around(hollow, looked_at));
        looks[n > 1000U ? 1 : 0] = static_cast<double>(looked_at);
        CHECK(faults_of(mesh).stray_hollows.count == n / 2);
    }
    // n log n would be 4 x log 4000 / log 1000 = 4.8; comparing each with each, 16.
    CHECK(looks[1] < 6.0 * looks[0]);
    CHECK(looks[1] < 0.1 * 2000.0 * 2000.0);
}

TEST_CASE("what lies in a box is found by the tree as by comparing each with each") {
    dice d(5);
    const auto some_box = [&](double size) {
        mesh_bounds box;
        box.add({d.between(0, 1), d.between(0, 1), d.between(0, 1)});
        box.add(box.low + mesh_point{d.between(0, size), d.between(0, size), d.between(0, size)});
        return box;
    };
    std::size_t found = 0;
    for (std::size_t round = 0; round < 60; ++round) {
        std::vector<mesh_bounds> boxes;
        for (std::size_t i = 0; i < round; ++i) boxes.push_back(some_box(0.5));
        const detail::nested_boxes around(boxes);
        for (int i = 0; i < 30; ++i) {
            const mesh_bounds inner = i % 5 == 0 && round > 0 ? boxes[d.below(round)] : some_box(0.1);
            const bool expected = std::any_of(boxes.begin(), boxes.end(), [&](const mesh_bounds& box) {
                return box.contains(inner.low) && box.contains(inner.high);
            });
            std::size_t looked_at = 0;
            REQUIRE(around.any_around(inner, looked_at) == expected);
            REQUIRE(looked_at <= round);
            found += expected ? 1 : 0;
        }
    }
    CHECK(found > 300); // of 1,800: every fifth lies in itself
}

TEST_CASE("most of one piece the wrong way round is told from the few of another") {
    triangle_mesh mesh = turned_over(box(0.1, 0.1, 0.1), {5});
    const triangle_mesh other = turned_over(box(0.2, 0.2, 0.2), {0, 1});
    for (auto t : other.triangles) mesh.triangles.push_back({t[0] + 8, t[1] + 8, t[2] + 8});
    for (const mesh_point& p : other.vertices) mesh.vertices.push_back(p + mesh_point{1.0, 0.0, 0.0});
    CHECK(faults_of(mesh).turned_triangles.count == 3);
    CHECK(faults_of(mesh).turned_triangles.first == 5);
}

TEST_CASE("a doubled triangle makes three edges of more than two triangles") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    mesh.triangles.push_back(mesh.triangles[4]); // 0 1 5
    CHECK(complaint_about(mesh) == "3 edges of more than two triangles (first: triangle 2 at (50, 0, 0) mm)");
}

TEST_CASE("triangles without area are counted") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    SECTION("with a corner twice") {
        mesh.triangles.push_back({3, 3, 1});
        CHECK(faults_of(mesh).degenerate_triangles.count == 1);
        CHECK_THAT(complaint_about(mesh), StartsWith("1 triangle without area (triangle 13 at (100, 200, 0) mm)"));
    }
    SECTION("with three corners in a line") {
        // A vertex in the middle of the side 0-1; the two triangles on it are cut in two, one of them along the side.
        mesh.vertices.push_back({0.05, 0.0, 0.0});
        mesh.triangles[1] = {0, 3, 8};
        mesh.triangles.push_back({8, 3, 1});
        mesh.triangles.push_back({0, 8, 1});
        const mesh_report report = faults_of(mesh);
        CHECK(report.degenerate_triangles.count == 1);
        CHECK(report.open_edges.count + report.crowded_edges.count + report.turned_triangles.count == 0);
        CHECK(complaint_about(mesh) == "1 triangle without area (triangle 14 at (0, 0, 0) mm)");
    }
    SECTION("but a needle is a triangle") {
        mesh.vertices.push_back({0.05, 1e-12, 0.0});
        mesh.triangles[1] = {0, 3, 8};
        mesh.triangles.push_back({8, 3, 1});
        mesh.triangles.push_back({0, 8, 1});
        CHECK(complaint_about(mesh) == "nothing");
    }
}

TEST_CASE("vertices that are no places are counted and nothing else is looked at") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    mesh.triangles.pop_back();
    mesh.vertices[3].y = std::numeric_limits<double>::quiet_NaN();
    CHECK(complaint_about(mesh) == "1 vertex that is not finite or a kilometre away (vertex 4 at (100, nan, 0) mm)");
    mesh.vertices[5].z = std::numeric_limits<double>::infinity();
    mesh.vertices[6].x = 1001.0;
    CHECK(faults_of(mesh).bad_vertices.count == 3);
    CHECK(faults_of(mesh).open_edges.count == 0);
}

TEST_CASE("indices beyond the vertices are counted") {
    triangle_mesh mesh = box(0.1, 0.2, 0.3);
    mesh.triangles[4][1] = 8;
    mesh.triangles[9][2] = 4'000'000'000;
    CHECK(complaint_about(mesh) == "2 triangles with a vertex that does not exist (first: triangle 5)");
}

TEST_CASE("a mesh around nothing is refused") {
    CHECK(complaint_about({}) == "no triangles");
    const triangle_mesh flat{.vertices = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, .triangles = {{0, 1, 2}, {0, 2, 1}}};
    CHECK(complaint_about(flat) == "a surface around no volume");
}

TEST_CASE("faults of several kinds are all told") {
    triangle_mesh mesh = turned_over(box(0.1, 0.2, 0.3), {7});
    mesh.triangles.erase(mesh.triangles.begin());
    const std::string found = complaint_about(mesh);
    CHECK_THAT(found, ContainsSubstring("3 open edges") && ContainsSubstring("1 triangle the wrong way round"));
}

} // namespace mesh_faults_test
