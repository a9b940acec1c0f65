// PLY files, text and binary: what is read, what is skipped, what is refused and where.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/read_ply.hpp>

#include "loin/mesh_files.hpp"
#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <limits>
#include <string>

namespace read_ply_test {

using namespace tranche;
using namespace tranche_test;

namespace {
std::string complaint(const std::string& file) {
    try {
        (void)read(read_ply, file);
    } catch (const invalid_input& e) {
        return e.what();
    }
    return "none";
}

const std::string tetrahedron_file = "ply\n"                                    // line 1
                                     "format ascii 1.0\n"                       // 2
                                     "comment by hand\n"                        // 3
                                     "element vertex 4\n"                       // 4
                                     "property float x\n"                       // 5
                                     "property float y\n"                       // 6
                                     "property float z\n"                       // 7
                                     "element face 4\n"                         // 8
                                     "property list uchar int vertex_indices\n" // 9
                                     "end_header\n"                             // 10
                                     "0 0 0\n1 0 0\n0 1 0\n0 0 1\n"             // 11 to 14
                                     "3 0 2 1\n3 0 1 3\n3 0 3 2\n3 1 2 3\n";    // 15 to 18
std::string with(const std::string& from, const std::string& to) {
    std::string file = tetrahedron_file;
    return file.replace(file.find(from), from.size(), to);
}
} // namespace

TEST_CASE("a mesh written as PLY reads back the same") {
    const triangle_mesh mesh = bumpy_loin(9, 7);
    for (const std::string& file : {ascii_ply_file(mesh), binary_ply_file(mesh)}) {
        const triangle_mesh back = read(read_ply, file);
        CHECK(back.vertices == mesh.vertices);
        CHECK(back.triangles == mesh.triangles);
    }
}

TEST_CASE("a PLY file by hand is a tetrahedron") {
    const triangle_mesh mesh = read(read_ply, tetrahedron_file);
    CHECK_NOTHROW(validate(mesh));
    CHECK_THAT(detail::volume_of(mesh).value(), WithinRel(1.0 / 6.0, 1e-15));
    CHECK(read(read_ply, tetrahedron_file, millimetre).vertices[1].x == 0.001);
    CHECK_THROWS_WITH(read(read_ply, tetrahedron_file, length{}), StartsWith("unit of the mesh: "));
}

TEST_CASE("other elements and properties of a PLY file are skipped, as text and in binary") {
    const auto file = [](const std::string& format) {
        return "ply\r\nformat " + format +
               " 1.0\nobj_info from a scanner\nelement camera 1\nproperty list uchar float view\nelement vertex 4\n"
               "property uchar red\nproperty double x\nproperty short y\nproperty list ushort uint16 neighbours\n"
               "property float32 z\nproperty float64 confidence\nelement face 2\nproperty int8 flags\n"
               "property list uint8 uint32 vertex_index\nproperty list char double texcoord\nelement edge 0\n"
               "property int vertex1\nend_header\n";
    };
    const std::string text = file("ascii") + "2 0.5 nan\n"
                                             "255 0 0 2 7 8 0 0.5\n0 1 0 0 0 0.5\n0 0 1 1 65535 0 0\n0 0 0 0 1 -inf\n"
                                             "-1 3 0 2 1 2 0.5 0.5\n7 4 0 1 3 2 0\n";
    std::string binary = file("binary_little_endian");
    append(binary, 2, 1);
    append(binary, 0.5F);
    append(binary, std::numeric_limits<float>::quiet_NaN());
    const auto append_vertex = [&](int red, double x, int y, std::initializer_list<int> neighbours, float z,
                                   double rest) {
        append(binary, static_cast<std::uint64_t>(red), 1);
        append(binary, x);
        append(binary, static_cast<std::uint64_t>(y), 2);
        append(binary, neighbours.size(), 2);
        for (const int n : neighbours) append(binary, static_cast<std::uint64_t>(n), 2);
        append(binary, z);
        append(binary, rest);
    };
    append_vertex(255, 0.0, 0, {7, 8}, 0.0F, 0.5);
    append_vertex(0, 1.0, 0, {}, 0.0F, 0.5);
    append_vertex(0, 0.0, 1, {65535}, 0.0F, 0.0);
    append_vertex(0, 0.0, 0, {}, 1.0F, 0.0);
    append(binary, 255, 1);
    append(binary, 3, 1);
    for (const std::uint64_t i : {0U, 2U, 1U}) append(binary, i, 4);
    append(binary, 2, 1);
    append(binary, 0.5);
    append(binary, 0.5);
    append(binary, 7, 1);
    append(binary, 4, 1);
    for (const std::uint64_t i : {0U, 1U, 3U, 2U}) append(binary, i, 4);
    append(binary, 0, 1);

    for (const std::string& bytes : {text, binary}) {
        const triangle_mesh mesh = read(read_ply, bytes);
        CHECK(mesh.vertices == std::vector<mesh_point>{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}});
        CHECK(mesh.triangles == std::vector<triangle_mesh::triangle>{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}});
    }
}

TEST_CASE("negative numbers of every whole type are read from binary PLY files") {
    for (const auto& [type, size] : {std::pair{"char", 1}, std::pair{"int16", 2}, std::pair{"int", 4}}) {
        std::string file = "ply\nformat binary_little_endian 1.0\nelement vertex 1\n";
        for (const char* axis : {"x", "y", "z"}) file += std::string("property ") + type + ' ' + axis + '\n';
        file += "element face 0\nproperty list uchar int vertex_indices\nend_header\n";
        for (const int coordinate : {-1, 127, -128}) append(file, static_cast<std::uint64_t>(coordinate), size);
        CHECK(read(read_ply, file).vertices == std::vector<mesh_point>{{-1, 127, -128}});
    }
}

TEST_CASE("faces may stand before vertices in a PLY file") {
    const triangle_mesh mesh = read(
        read_ply, "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_indices\nelement vertex 3\n"
                  "property float x\nproperty float y\nproperty float z\nend_header\n3 0 1 2\n0 0 0\n1 0 0\n0 1 0\n");
    CHECK(mesh.triangles.size() == 1);
    CHECK(mesh.vertices.size() == 3);
}

TEST_CASE("a big-endian PLY file is refused by name") {
    CHECK(complaint(with("ascii", "binary_big_endian")) == "PLY line 2: got \"binary_big_endian 1.0\", expected ascii "
                                                           "or binary_little_endian; write the file again as one of "
                                                           "these");
}

TEST_CASE("what the header of a PLY file may not say is refused with its line") {
    const auto [from, to, expected] = GENERATE(table<std::string, std::string, std::string>({
        {"ply\n", "plot\n", "PLY line 1: got \"plot\", expected \"ply\""},
        {"ascii", "utf8", "PLY line 2: got \"utf8 1.0\", expected ascii or binary_little_endian"},
        {"ascii 1.0", "ascii 1.1", "PLY line 2: got \"1.1\", expected \"1.0\""},
        {"comment", "remark",
         "PLY line 3: got \"remark by hand\", expected element, property, comment, obj_info or end_header"},
        {"comment by hand", "property int x",
         "PLY line 3: got \"property int x\", expected an element before its properties"},
        {"vertex 4", "vertex -4", "PLY line 4: got \"-4\", expected the number of elements"},
        {"vertex 4", "vertex", "PLY line 4: got the end of the line, expected the number of elements"},
        {"vertex 4", "vertex 4 4", "PLY line 4: got \"4\", expected the end of the line"},
        {"float y", "real y",
         "PLY line 6: got \"real y\", expected a type: char, uchar, short, ushort, int, uint, float or double"},
        {"float y", "float", "PLY line 6: got the end of the line, expected the name of the property"},
        {"float y", "float w",
         "PLY line 10: got the end of the line, expected an element vertex with x, y and z above the end "
         "of the header, once each"},
        {"float y", "float x",
         "PLY line 10: got the end of the line, expected an element vertex with x, y and z above the end "
         "of the header, once each"},
        {"float y", "list uchar float y",
         "PLY line 6: got \"float y\", expected one number a vertex as its coordinate"},
        {"element face", "element vertex", "PLY line 8: got \"element vertex 4\", expected this element once only"},
        {"element face", "element strip",
         "PLY line 10: got the end of the line, expected an element face with vertex_indices "
         "above the end of the header, once each"},
        {"list uchar int", "list float int",
         "PLY line 9: got \"float int vertex_indices\", expected a whole type for the "
         "number of items"},
        {"list uchar int", "list uchar float",
         "PLY line 9: got \"float vertex_indices\", expected a list of whole numbers as "
         "vertex indices"},
        {"list uchar int", "int",
         "PLY line 9: got \"int vertex_indices\", expected a list of whole numbers as vertex indices"},
        {"end_header\n", "", "PLY line 10: got \"0 0 0\", expected element, property, comment, obj_info or end_header"},
    }));
    CHECK(complaint(with(from, to)) == expected);
}

TEST_CASE("what the body of a text PLY file may not say is refused with its line") {
    const auto [from, to, expected] = GENERATE(table<std::string, std::string, std::string>({
        {"\n1 0 0\n", "\n1 0\n", "PLY line 12: got the end of the line, expected a finite coordinate"},
        {"\n1 0 0\n", "\n1 0 0 0\n", "PLY line 12: got \"0\", expected the end of the line, with no more values"},
        {"\n1 0 0\n", "\n1 nan 0\n", "PLY line 12: got \"nan 0\", expected a finite coordinate"},
        {"3 0 2 1", "2 0 2", "PLY line 15: got \"0 2\", expected a face of at least three corners, not 2"},
        {"3 0 2 1", "-3 0 2 1", "PLY line 15: got \"0 2 1\", expected a face of at least three corners, not -3"},
        {"3 0 2 1", "4 0 2 1", "PLY line 15: got the end of the line, expected a whole number"},
        {"3 0 2 1", "9 0 2 1 0 2 1 0 2 1",
         "PLY line 15: got \"0 2 1 0 2 1 0 2 1\", expected a face of no more than 8 corners, twice the vertices, not "
         "9"},
        {"3 0 2 1", "3 0 4 1",
         "PLY line 15: got \"1\", expected the number of one of the 4 vertices, counted from 0, not 4"},
        {"3 0 2 1", "3 0 -1 1",
         "PLY line 15: got \"1\", expected the number of one of the 4 vertices, counted from 0, not -1"},
        {"3 0 2 1", "3 0 2.5 1", "PLY line 15: got \".5 1\", expected a blank after the number"},
        {"3 1 2 3\n", "3 1 2 3\n\n3 1 2 3\n",
         "PLY line 20: got \"3 1 2 3\", expected the end of the file after the last element"},
    }));
    CHECK(complaint(with(from, to)) == expected);
}

TEST_CASE("a PLY header that promises more than the file holds is refused at once") {
    // Were memory reserved for what these promise, they would not end well.
    CHECK(complaint(with("vertex 4", "vertex 4000000000")) ==
          "PLY line 11: got \"0 0 0\", expected the 4000000000 elements of the header");
    CHECK(complaint(with("face 4", "face 9000000000000000000")) ==
          "PLY line 15: got \"3 0 2 1\", expected the 9000000000000000000 elements of the header");
    CHECK_THAT(complaint(with("face 4", "face 99999999999999999999")), EndsWith("expected the number of elements"));
    CHECK_THAT(complaint(with("element face 4", "element nothing 4000000000\nelement face 4")),
               EndsWith("expected the 4000000000 elements of the header"));
    const std::string binary = binary_ply_file(box(1.0, 1.0, 1.0));
    std::string more = binary;
    more.replace(more.find("vertex 8"), 8, "vertex 4000000000");
    CHECK_THAT(complaint(more), EndsWith("expected the 4000000000 elements of the header"));
    std::string long_face = binary;
    long_face.replace(long_face.find("uchar int"), 9, "uint uchar");
    CHECK_THAT(complaint(long_face), ContainsSubstring("expected a face of at least three corners, not"));
    std::string long_list = "ply\nformat binary_little_endian 1.0\nelement vertex 1\nproperty char x\nproperty char y\n"
                            "property char z\nproperty list uint double colours\nelement face 0\n"
                            "property list uchar int vertex_indices\nend_header\n";
    append(long_list, 0xffff'ffff'00'00'00U, 7);
    CHECK_THAT(complaint(long_list), EndsWith("expected 4294967295 items"));
}

TEST_CASE("bytes behind the last element of a binary PLY file are refused") {
    const std::string file = binary_ply_file(box(1.0, 1.0, 1.0));
    CHECK(complaint(file + "ab") ==
          "binary PLY byte " + std::to_string(file.size()) +
              ": got 2 bytes before the end, expected the end of the file after the last element");
}

TEST_CASE("a PLY file cut off anywhere is refused") {
    const triangle_mesh mesh = ball(0.1, 5, 3);
    const std::string text = ascii_ply_file(mesh), binary = binary_ply_file(mesh);
    for (std::size_t size = 0; size + 1 < text.size(); ++size) { // the last line end may be missing
        CAPTURE(size);
        CHECK_THROWS_AS(validate(read(read_ply, text.substr(0, size))), invalid_input);
    }
    for (std::size_t size = 0; size < binary.size(); ++size) {
        CAPTURE(size);
        CHECK_THROWS_AS(read(read_ply, binary.substr(0, size)), invalid_input);
    }
}

TEST_CASE("a coordinate that is no number is refused with its byte in a binary PLY file") {
    triangle_mesh mesh = box(1.0, 2.0, 3.0);
    mesh.vertices[5].y = std::numeric_limits<double>::infinity();
    const std::size_t body = ply_header(mesh, "binary_little_endian", "double").size();
    CHECK_THAT(complaint(binary_ply_file(mesh)),
               StartsWith("binary PLY byte " + std::to_string(body + 5 * 24 + 8) + ": got ") &&
                   EndsWith("expected a finite coordinate"));
}

} // namespace read_ply_test
