// OBJ files: what is read, what is skipped, what is refused and where.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/read_obj.hpp>

#include "loin/mesh_files.hpp"
#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <istream>
#include <sstream>
#include <string>

namespace read_obj_test {

using namespace tranche;
using namespace tranche_test;

namespace {
const std::string tetrahedron_corners = "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\n"; // lines 1 to 4
const std::vector<triangle_mesh::triangle> tetrahedron_faces{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}};

std::string complaint(const std::string& file) {
    try {
        (void)read(read_obj, file);
    } catch (const invalid_input& e) {
        return e.what();
    }
    return "none";
}
} // namespace

TEST_CASE("a mesh written as OBJ reads back the same") {
    const triangle_mesh mesh = bumpy_loin(9, 7);
    const triangle_mesh back = read(read_obj, obj_file(mesh));
    CHECK(back.vertices == mesh.vertices);
    CHECK(back.triangles == mesh.triangles);
}

TEST_CASE("corners of OBJ faces come in four forms, from the front or from the back") {
    const std::string decoration = "vt 0 0\nvn 0 0 1\n";
    for (const char* faces :
         {"f 1 3 2\nf 1 2 4\nf 1 4 3\nf 2 3 4\n", "f 1/1 3/1 2/1\nf 1/1 2/1 4/1\nf 1/1 4/1 3/1\nf 2/1 3/1 4/1",
          "f 1//1 3//1 2//1\nf 1/1/1 2/1/1 4/1/1\nf 1/1/-1 4/-1/-1 3//-1\nf 2 3 4\n",
          "f -4 -2 -3\r\nf -4 -3 -1\r\nf -4 -1 -2\r\nf -3 -2 -1\r\n",
          "f 1 3 2 \nf\t1\t2  4\n\n  f 1 \\\n 4 3\nf 2 3 \\\r\n4\n"}) {
        CAPTURE(faces);
        const triangle_mesh mesh = read(read_obj, tetrahedron_corners + decoration + faces);
        CHECK(mesh.triangles == tetrahedron_faces);
        CHECK_NOTHROW(validate(mesh));
    }
}

TEST_CASE("negative OBJ indices count back from where they stand") {
    const triangle_mesh mesh = read(read_obj, "v 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\nv 0 0 1\nf -4 -1 -3\n");
    CHECK(mesh.triangles == std::vector<triangle_mesh::triangle>{{0, 1, 2}, {0, 3, 1}});
}

TEST_CASE("OBJ polygons become fans and stay closed") {
    const triangle_mesh mesh = read(read_obj, "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nv 0 0 1\nv 1 0 1\nv 1 1 1\nv 0 1 1\n"
                                              "f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n");
    CHECK(mesh.triangles.size() == 12);
    CHECK_NOTHROW(validate(mesh));
    CHECK(detail::volume_of(mesh).value() == 1.0);
}

TEST_CASE("OBJ comments, names, groups, materials and colours are skipped") {
    const triangle_mesh mesh =
        read(read_obj,
             "# by hand \\\nmtllib a.mtl\no body\ng side one\nusemtl fat\ns off\nv 1 2 3 1.0\nv 4 5 6 0.1 0.2 0.3\n"
             "#v 9 9 9\nv +7 8e0 -9.0E-0\nvn 0 0 1\nvt 0.5 0.5 0\nl 1 2\np 1\nf 1 2 3\n");
    CHECK(mesh.vertices == std::vector<mesh_point>{{1, 2, 3}, {4, 5, 6}, {7, 8, -9}});
    CHECK(mesh.triangles.size() == 1);
}

TEST_CASE("the unit of an OBJ file is what the caller says") {
    const triangle_mesh mesh = read(read_obj, "v 1 20 300\n", millimetre);
    CHECK(mesh.vertices[0] == mesh_point{1 * 0.001, 20 * 0.001, 300 * 0.001});
    const triangle_mesh inches = read(read_obj, "v 2 0 0\n", inch);
    CHECK(inches.vertices[0].x == 2 * 0.0254);
    for (const length& bad : {length{}, -1.0 * metre, unlimited<length>()})
        CHECK_THROWS_WITH(read(read_obj, "v 0 0 0\n", bad), StartsWith("unit of the mesh: "));
}

TEST_CASE("what an OBJ file may not say is refused with its line") {
    const auto [file, expected] = GENERATE(table<std::string, std::string>({
        {"v 1 2\n", "OBJ line 1: got the end of the line, expected three finite coordinates"},
        {"\n\nv 1 2 x\n", "OBJ line 3: got \"x\", expected three finite coordinates"},
        {"v 1 nan 2\n", "OBJ line 1: got \"nan 2\", expected three finite coordinates"},
        {"v 1 2 inf\n", "OBJ line 1: got \"inf\", expected three finite coordinates"},
        {"v 1 2 1e999\n", "OBJ line 1: got \"1e999\", expected three finite coordinates"},
        {"v 1 2 3mm\n", "OBJ line 1: got \"3mm\", expected three finite coordinates"},
        {"v 1 2 +-3\n", "OBJ line 1: got \"+-3\", expected three finite coordinates"},
        {"v 1,5 2 3\n", "OBJ line 1: got \"1,5 2 3\", expected three finite coordinates"},
        {"v 1 2 3 4 5 6 7 8\n", "OBJ line 1: got \"8\", expected the end of the line"},
        {"v 1 2 3 red\n", "OBJ line 1: got \"red\", expected a weight or a colour, or the end of the line"},
        {"v 0 0 0\nf 1 1\n", "OBJ line 2: got the end of the line, expected at least three corners"},
        {"v 0 0 0\nf 1 1 2\n",
         "OBJ line 2: got \"2\", expected the number of one of the 1 vertices above, counted from 1"},
        {"v 0 0 0\nf 0 1 1\n",
         "OBJ line 2: got \"0 1 1\", expected the number of one of the 1 vertices above, counted from 1"},
        {"v 0 0 0\nf 1 -2 1\n",
         "OBJ line 2: got \"-2 1\", expected the number of one of the 1 vertices above, counted from 1"},
        {"f 1 2 3\n", "OBJ line 1: got \"1 2 3\", expected the number of one of the 0 vertices above, counted from 1"},
        {"v 0 0 0\nv 1 0 0\nf 1 2 1 2 1 2\n",
         "OBJ line 3: got \"1 2\", expected a face of no more than 4 corners, twice the vertices above it"},
        {"v 0 0 0\nf 1/ 1 1\n", "OBJ line 2: got \"1 1\", expected a corner such as 1, 1/2, 1//3 or 1/2/3"},
        {"v 0 0 0\nf 1// 1 1\n", "OBJ line 2: got \"1 1\", expected a corner such as 1, 1/2, 1//3 or 1/2/3"},
        {"v 0 0 0\nf 1/1/1/1 1 1\n", "OBJ line 2: got \"/1 1 1\", expected a blank after the corner"},
        {"v 0 0 0\nf 1.0 1 1\n", "OBJ line 2: got \".0 1 1\", expected a blank after the corner"},
        {"v 0 0 0\nf 99999999999999999999 1 1\n",
         "OBJ line 2: got \"99999999999999999999 1 1\", expected a corner such as 1, 1/2, 1//3 or 1/2/3"},
        {"curv 0 1 2\n",
         "OBJ line 1: got \"curv 0 1 2\", expected a statement of a polygon mesh: v, f, vt, vn, g, o, s, l, p, "
         "usemtl, mtllib or a comment"},
        {std::string("v\0 1\n", 5),
         "OBJ line 1: got \"v? 1\", expected a statement of a polygon mesh: v, f, vt, vn, g, o, s, "
         "l, p, usemtl, mtllib or a comment"},
    }));
    CHECK(complaint(file) == expected);
}

TEST_CASE("a short OBJ file is not blown up by a face that comes by its vertices again and again") {
    std::string file = "v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf";
    for (int i = 0; i < 100'000; ++i) file += " 1 2 3 4";
    CHECK_THAT(complaint(file), EndsWith("expected a face of no more than 8 corners, twice the vertices above it"));
}

TEST_CASE("an OBJ face may have a hole that is joined to its rim") {
    // A square with a square hole, of one polygon that comes by corners 1 and 5 twice.
    const triangle_mesh mesh = read(read_obj, "v 0 0 0\nv 9 0 0\nv 9 9 0\nv 0 9 0\nv 3 3 0\nv 3 6 0\nv 6 6 0\nv 6 3 0\n"
                                              "f 1 2 3 4 1 5 6 7 8 5\n");
    CHECK(mesh.triangles.size() == 8);
}

TEST_CASE("a line that is not closed by its continuation still counts") {
    CHECK(complaint("v 0 \\\n 0 \\\n x\n") == "OBJ line 3: got \"x\", expected three finite coordinates");
}

TEST_CASE("an OBJ file cut off anywhere is refused by the reader or by the check of its mesh") {
    const std::string file = obj_file(ball(0.1, 5, 3));
    for (std::size_t size = 0; size + 1 < file.size(); ++size) { // without the last byte, a line end, it is whole
        CAPTURE(size);
        CHECK_THROWS_AS(validate(read(read_obj, file.substr(0, size))), invalid_input);
    }
    CHECK_NOTHROW(validate(read(read_obj, file.substr(0, file.size() - 1))));
}

TEST_CASE("a stream that is no open file is refused") {
    std::istringstream in("v 0 0 0\n");
    in.setstate(std::ios::failbit);
    CHECK_THROWS_WITH(read_obj(in, metre), StartsWith("OBJ: got a stream that cannot be read"));
}

} // namespace read_obj_test
