// The table of traced faces: what it says, and what is wrong with bad ones.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <istream>
#include <sstream>
#include <stdexcept>
#include <streambuf>
#include <string>
#include <utility>
#include <vector>

#include <tranche/loin/outline/read_traced_faces.hpp>
#include <tranche/units/literals.hpp>

#include "support/catch.hpp"

namespace read_traced_faces_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

/// Invented faces, in millimetres.
const std::string table = "# traced from two photographs\n"
                          "at,outline,across,up\n"
                          "0,whole,0,0\n0,whole,180,0\n0,whole,180,80\n0,whole,0,80\n"
                          "0, eye ,10,5\n0,eye,120.5,5\n0,eye,120,70\n0,eye,10,70\n"
                          "0,hole in eye,50,30\n0,hole in eye,60,30\n0,hole in eye,60,40\n"
                          "\n"
                          "330,whole,0,0\n330,whole,170,0\n330,whole,170,70\n330,whole,0,70\n"
                          "330,eye,10,5\n330,eye,90,5\n330,eye,90,60\n330,eye,10,60\n"
                          "330,gluteus medius,100,5\n330,gluteus medius,130,5\n330,gluteus medius,130,55\n"
                          "330,tail,135,2\n330,tail,168,2\n330,tail,168,30\n330,tail,135,30\n";

std::vector<traced_face> read(const std::string& text, length unit = 1_mm) {
    std::istringstream in(text);
    return read_traced_faces(in, unit);
}

std::string without(const std::string& what, const std::string& with = "") {
    std::string text = table;
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

} // namespace

TEST_CASE("read_traced_faces: reads outlines, holes, remarks and units") {
    const auto faces = read(table);
    REQUIRE(faces.size() == 2);
    CHECK(faces[0].at == 0_mm);
    CHECK(faces[1].at / 1_mm == Approx(330.0));
    CHECK(faces[0].eye.points.size() == 4);
    CHECK(faces[0].eye.points[1].across / 1_mm == Approx(120.5));
    REQUIRE(faces[0].eye.holes.size() == 1);
    CHECK(faces[0].eye.holes[0].size() == 3);
    CHECK_FALSE(faces[0].tail.has_value());
    REQUIRE(faces[1].gluteus_medius.has_value());
    REQUIRE(faces[1].tail.has_value());
    CHECK(area_of(*faces[1].tail) / 1_mm / 1_mm == Approx(33.0 * 28.0));
    const traced_loin loin(35_cm, faces);
    CHECK(loin.face_at(33_cm).areas[tissue::gluteus_medius] / 1_mm / 1_mm == Approx(750.0));
    CHECK(read(table, 1_in)[1].at / 1_in == Approx(330.0));
}

TEST_CASE("read_traced_faces: names the line of what cannot be read") {
    const auto refuses = [](const std::string& text, const std::string& message) {
        CHECK_THROWS_WITH(read(text), StartsWith(message));
    };
    refuses("", "traced faces: got none");
    refuses("at,outline,across,up\n", "traced faces: got none");
    refuses(without("at,outline,across,up\n"), "line 2: got \"0,whole,0,0\", expected the heading");
    refuses(without("0,whole,180,0\n", "0,whole,180\n"), "line 4: got \"180\", expected four cells");
    refuses(without("0,whole,180,0\n", "0,whole,180,0,0\n"), "line 4: got \"0,0\", expected four cells");
    refuses(without("0,whole,180,0\n", "0,whole,18o,0\n"), "line 4: got \"18o\", expected a finite number");
    refuses(without("0,whole,180,0\n", "0,whole,nan,0\n"), "line 4: got \"nan\"");
    refuses(without("0,whole,180,0\n", "0,whole,1e999,0\n"), "line 4: got \"1e999\"");
    refuses(without("330,tail,135,2\n", "330,tale,135,2\n"), "line 26: got \"tale\", expected whole, eye");
    refuses(without("330,tail,135,2\n", "330,eye,135,2\n"),
            "line 26: got \"eye\", expected each outline of a face once");
    refuses(without("330,gluteus medius,100,5\n", "330,hole in tail,100,5\n"),
            "line 23: got \"hole in tail\", expected the outline in front");
    refuses("at,outline,across,up\n5,eye,0,0\n5,eye,9,0\n5,eye,9,9\n", "face at 5 mm: got no outline whole");
    refuses("at,outline,across,up\n5,whole,0,0\n5,whole,9,0\n5,whole,9,9\n", "face at 5 mm: got no outline eye");
    CHECK_THROWS_WITH(read(table, 0_mm), StartsWith("unit of the outlines: got 0 mm"));
}

TEST_CASE("read_traced_faces: leaves out a byte order mark") {
    CHECK(read("\xEF\xBB\xBF" + table).size() == 2);
    CHECK_THROWS_WITH(read("\n\xEF\xBB\xBF" + table), StartsWith("line 2: got"));
}

TEST_CASE("read_traced_faces: refuses a stream that breaks off") {
    struct breaking : std::streambuf {
        std::string start;
        explicit breaking(std::string text) : start(std::move(text)) {
            setg(start.data(), start.data(), start.data() + start.size());
        }
        int_type underflow() override { throw std::runtime_error("no disk"); }
    };
    breaking buffer(table);
    std::istream in(&buffer);
    CHECK_THROWS_WITH(read_traced_faces(in, 1_mm), StartsWith("traced faces: got a stream that broke off"));
}

TEST_CASE("read_traced_faces: one number mistyped gives a face of plausible size or an error that names its corner") {
    for (std::size_t at = table.find("0,whole"); at < table.size(); ++at) {
        if (table[at] != ',' || table[at + 1] < '0' || table[at + 1] > '9') continue;
        for (const char* slip : {"9000", "1e6", "1e300", "-5e9", "871000."}) {
            std::string torn = table;
            torn.replace(at + 1, table.find_first_of(",\n", at + 1) - at - 1, slip);
            CAPTURE(torn.substr(0, at + 12));
            try {
                const traced_loin loin(35_cm, read(torn));
                for (const traced_face& f : loin.faces()) {
                    const auto [low, high] =
                        std::minmax_element(f.whole.points.begin(), f.whole.points.end(),
                                            [](const auto& a, const auto& b) { return a.up < b.up; });
                    REQUIRE(high->up - low->up <= highest_outline);
                }
            } catch (const invalid_input& error) {
                REQUIRE_THAT(error.field(), StartsWith("faces["));
            }
        }
    }
}

TEST_CASE("read_traced_faces: gives faces or an error whatever single character is lost") {
    std::size_t refused = 0;
    for (std::size_t at = 0; at < table.size(); ++at) {
        std::string torn = table;
        torn.erase(at, 1);
        try {
            (void)traced_loin(35_cm, read(torn));
        } catch (const invalid_input& error) {
            CHECK_THAT(error.what(), ContainsSubstring(": got ") && ContainsSubstring(", expected "));
            ++refused;
        }
    }
    CHECK(refused > 100);
}

} // namespace read_traced_faces_test
