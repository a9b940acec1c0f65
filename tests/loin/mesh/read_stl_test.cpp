// STL files, text and binary: what is read, how corners become vertices, what is refused and where.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/loin/mesh/mesh_faults.hpp>
#include <tranche/loin/mesh/read_stl.hpp>

#include "loin/mesh_files.hpp"
#include "loin/mesh_shapes.hpp"
#include "support/catch.hpp"

#include <cstddef>
#include <istream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

namespace read_stl_test {

using namespace tranche;
using namespace tranche_test;

namespace {
std::string complaint(const std::string& file) {
    try {
        (void)read(read_stl, file);
    } catch (const invalid_input& e) {
        return e.what();
    }
    return "none";
}

/// The same triangles, corner by corner, whatever the order of the vertices.
void check_same_triangles(const triangle_mesh& a, const triangle_mesh& b) {
    REQUIRE(a.triangles.size() == b.triangles.size());
    for (std::size_t t = 0; t < a.triangles.size(); ++t)
        for (std::size_t k = 0; k < 3; ++k) CHECK(a.vertices[a.triangles[t][k]] == b.vertices[b.triangles[t][k]]);
}

/// Coordinates that 32 bits hold.
triangle_mesh in_floats(triangle_mesh mesh) {
    const auto rounded_to_float = [](double x) { return static_cast<double>(static_cast<float>(x)); };
    for (mesh_point& p : mesh.vertices) p = {rounded_to_float(p.x), rounded_to_float(p.y), rounded_to_float(p.z)};
    return mesh;
}

const std::string one_facet =
    "solid a b\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 0\n   vertex 1 0 0\n   vertex 0 1 0\n"
    "  endloop\n endfacet\nendsolid a b\n";
std::string with(const std::string& from, const std::string& to) {
    std::string file = one_facet;
    return file.replace(file.find(from), from.size(), to);
}
} // namespace

TEST_CASE("a mesh written as STL comes back with its vertices made one again") {
    const triangle_mesh mesh = in_floats(bumpy_loin(9, 7));
    for (const std::string& file : {text_stl_file(mesh), binary_stl_file(mesh)}) {
        const triangle_mesh back = read(read_stl, file);
        CHECK(back.vertices.size() == mesh.vertices.size());
        check_same_triangles(back, mesh);
        CHECK_NOTHROW(validate(back));
    }
}

TEST_CASE("a binary STL file may begin with solid") {
    const triangle_mesh mesh = in_floats(box(1.0, 2.0, 3.0));
    check_same_triangles(read(read_stl, binary_stl_file(mesh, "solid body")), mesh);
}

TEST_CASE("only equal coordinates are made one vertex, and zero has no sign") {
    const std::string file = with("vertex 1 0 0", "vertex -0 1e-300 0");
    CHECK(read(read_stl, file).vertices.size() == 3);
    CHECK(read(read_stl, with("vertex 1 0 0", "vertex -0 0 -0.0")).vertices.size() == 2);
}

TEST_CASE("many vertices find their equals") {
    const triangle_mesh mesh = in_floats(ball(1.0, 150, 100));
    CHECK(read(read_stl, binary_stl_file(mesh)).vertices.size() == mesh.vertices.size());
}

TEST_CASE("corners are found again by their text, and by their numbers where the text differs") {
    detail::corner_texts texts;
    CHECK_FALSE(texts.find(" 1 0 0"));
    texts.put(" 1 0 0", 7);
    CHECK(texts.find(std::string(" 1 0 0")) == 7U); // other bytes, the same text
    CHECK_FALSE(texts.find(" 1 0 0 "));
    CHECK_FALSE(texts.find(""));
    texts.put(std::string(1000, '1'), 8); // too long to keep
    CHECK_FALSE(texts.find(std::string(1000, '1')));
    CHECK(texts.find(" 1 0 0") == 7U);
    // Each of the first facet's corners once more, as it stands there and written otherwise, and with a line that goes on.
    const auto facet = [](const std::string& a, const std::string& b, const std::string& c) {
        return " facet normal 0 0 1\n  outer loop\n   vertex " + a + "\n   vertex " + b + "\n   vertex " + c +
               "\n  endloop\n endfacet\n";
    };
    const triangle_mesh mesh =
        read(read_stl, "solid\n" + facet("0 0 0", "1 0 0", "0 1 0") + facet("0 0 0", "1.0 0 0", "0 10e-1 0\r") +
                           facet("0 \\\n0 0", "0 \\\n1 0", "1 0 0") + "endsolid\n");
    CHECK(mesh.vertices.size() == 3);
    CHECK(mesh.triangles == std::vector<triangle_mesh::triangle>{{0, 1, 2}, {0, 1, 2}, {0, 2, 1}});
    // What is wrong in a line stays wrong when it stands there twice.
    CHECK(complaint(with("vertex 1 0 0\n   vertex 0 1 0", "vertex 1 0\n   vertex 1 0")) ==
          "STL line 5: got the end of the line, expected three finite coordinates");
}

TEST_CASE("a text of many blocks is read like a short one, however its lines end") {
    const triangle_mesh mesh = ball(1.0, 50, 30);
    const std::string file = text_stl_file(mesh);
    REQUIRE(file.size() > 600'000);
    const auto replaced = [&](const std::string& from, const std::string& to) {
        std::string out;
        std::size_t at = 0;
        for (std::size_t next = file.find(from); next != std::string::npos; next = file.find(from, at)) {
            out += file.substr(at, next - at) + to;
            at = next + from.size();
        }
        return out + file.substr(at);
    };
    for (const std::string& written :
         {file, replaced("\n", "\r\n"), replaced("endfacet\n", "endfacet \t\n\n"), replaced("\n", "\n\n"),
          replaced("endfacet\n", "endfacet \\\n\n"), replaced("solid body", "solid endfacet"),
          replaced("solid body", "solid " + std::string(300'000, 'x') + " endfacet")}) {
        const triangle_mesh back = read(read_stl, written);
        CHECK(back.vertices.size() == mesh.vertices.size());
        check_same_triangles(back, mesh);
    }

    // Faults behind the first blocks: the last facet's lines are seven, and one says how the file ends.
    const std::size_t lines = 2 + 7 * mesh.triangles.size();
    const auto last = [&](const std::string& from, const std::string& to) {
        std::string broken = file;
        return complaint(broken.replace(broken.rfind(from), from.size(), to));
    };
    const auto line = [](std::size_t number) { return "STL line " + std::to_string(number) + ": got "; };
    CHECK(last("endfacet", "endface") == line(lines - 1) + "\"endface\", expected \"endfacet\"");
    CHECK(last("endloop", "endloop 1") == line(lines - 2) + "\"1\", expected the end of the line");
    CHECK(last("outer", "inner") == line(lines - 6) + "\"inner loop\", expected \"outer\"");
    CHECK(last("0 0 0", "0 00") == line(lines - 7) + "the end of the line, expected three numbers, the normal");
    CHECK(last("endsolid body\n", "") ==
          line(lines) + "the end of the file, expected \"facet normal\" or \"endsolid\"");
    CHECK(complaint(file + "facet") == line(lines + 1) + "\"facet\", expected the end of the file after one solid");
}

TEST_CASE("a text is told from a binary file by its size even where its name holds a small number") {
    std::string name(80, 'x');
    name.replace(0, 6, "solid ");
    name += std::string("\x01\0\0\0", 4);
    CHECK(read(read_stl, with("solid a b\n", name + '\n')) == read(read_stl, one_facet));
    CHECK(read(read_stl, name + std::string(50, '\0')).triangles.size() == 1);
}

TEST_CASE("a stream that cannot be wound is read like one that can") {
    struct one_way : std::stringbuf {
        using std::stringbuf::stringbuf;
        pos_type seekoff(off_type, std::ios::seekdir, std::ios::openmode) override { return pos_type(off_type(-1)); }
        pos_type seekpos(pos_type, std::ios::openmode) override { return pos_type(off_type(-1)); }
    };
    one_way pipe(one_facet);
    std::istream in(&pipe);
    CHECK(read_stl(in, metre) == read(read_stl, one_facet));
    // From where a stream stands, not from its start.
    std::istringstream second(one_facet + one_facet);
    second.seekg(static_cast<std::streamoff>(one_facet.size()));
    CHECK(read_stl(second, metre) == read(read_stl, one_facet));
}

TEST_CASE("the bytes of a file whose size is known are read into one piece of memory") {
    std::istringstream in(std::string(3'000'001, 'x'));
    CHECK(detail::bytes_left(in) == 3'000'001);
    const std::string bytes = detail::bytes_of(in, "STL");
    CHECK(bytes.size() == 3'000'001);
    CHECK(bytes.capacity() < 3'000'100); // one that grew by doubling has room for a third more
}

TEST_CASE("normals of STL facets are numbers that do not matter") {
    CHECK(read(read_stl, with("normal 0 0 1", "normal nan inf -7e300")).triangles.size() == 1);
}

TEST_CASE("the unit of an STL file is what the caller says") {
    CHECK(read(read_stl, one_facet, millimetre).vertices[1].x == 0.001);
    CHECK(read(read_stl, binary_stl_file(box(1.0, 2.0, 4.0)), inch).vertices.back().z == 4.0 * 0.0254);
    CHECK_THROWS_WITH(read(read_stl, one_facet, length{}), StartsWith("unit of the mesh: "));
}

TEST_CASE("what a text STL file may not say is refused with its line") {
    CHECK(complaint(one_facet) == "none");
    const auto [from, to, expected] = GENERATE(table<std::string, std::string, std::string>({
        {"solid a b", "solidly", "STL line 1: got \"solidly\", expected \"solid\""},
        {"facet normal", "facet", "STL line 2: got \"0 0 1\", expected \"normal\""},
        {"0 0 1", "0 0", "STL line 2: got the end of the line, expected three numbers, the normal"},
        {"0 0 1", "0 0 1 2", "STL line 2: got \"2\", expected the end of the line"},
        {"outer loop", "outer", "STL line 3: got the end of the line, expected \"loop\""},
        {"vertex 1 0 0", "vertex 1 0 nan", "STL line 5: got \"nan\", expected three finite coordinates"},
        {"   vertex 0 1 0\n", "", "STL line 6: got \"endloop\", expected \"vertex\""},
        {"  endloop\n", "vertex 3 3 3\n", "STL line 7: got \"vertex 3 3 3\", expected \"endloop\""},
        {" endfacet\n", "", "STL line 8: got \"endsolid a b\", expected \"endfacet\""},
        {"endsolid a b\n", "", "STL line 9: got the end of the file, expected \"facet normal\" or \"endsolid\""},
        {"endsolid a b\n", "endsolid\nsolid\n",
         "STL line 10: got \"solid\", expected the end of the file after one solid"},
    }));
    CHECK(complaint(with(from, to)) == expected);
}

TEST_CASE("a binary STL file of the wrong size is refused with both sizes") {
    const std::string file = binary_stl_file(box(1.0, 2.0, 3.0));
    CHECK(complaint(file + 'x') ==
          "STL: got 685 bytes, expected text that begins with \"solid\", or, with the 12 triangles "
          "of the binary header, 684 bytes");
    std::string lying = file;
    for (std::size_t i = 80; i < 84; ++i) lying[i] = '\xff';
    CHECK_THAT(complaint(lying), ContainsSubstring("4294967295 triangles"));
}

TEST_CASE("a coordinate that is no number is refused with its byte in a binary STL file") {
    triangle_mesh mesh = box(1.0, 2.0, 3.0);
    mesh.vertices[5].y = std::numeric_limits<double>::quiet_NaN(); // for the first time in triangle 3: 4 5 7
    // 84 bytes, two triangles of 50, a normal of 12, a corner of 12, and x.
    CHECK(complaint(binary_stl_file(mesh)) ==
          "binary STL byte 212: got nan, expected a finite coordinate of triangle 3");
}

TEST_CASE("an STL file cut off anywhere is refused") {
    const triangle_mesh mesh = in_floats(ball(0.1, 5, 3));
    const std::string text = text_stl_file(mesh), binary = binary_stl_file(mesh),
                      named = binary_stl_file(mesh, "solid body");
    // The name after "endsolid" and the last line end may be missing.
    for (std::size_t size = 0; size < text.size() - std::string(" body\n").size(); ++size) {
        CAPTURE(size);
        CHECK_THROWS_AS(validate(read(read_stl, text.substr(0, size))), invalid_input);
    }
    for (const std::string& file : {binary, named})
        for (std::size_t size = 0; size < file.size(); ++size) {
            CAPTURE(size);
            CHECK_THROWS_AS(validate(read(read_stl, file.substr(0, size))), invalid_input);
        }
}

} // namespace read_stl_test
