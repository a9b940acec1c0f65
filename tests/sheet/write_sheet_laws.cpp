// Laws of sheets in and out: whatever sheet there is, text and JSON read back as it, to the last bit.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cstdint>
#include <string>

#include "any_sheet.hpp"
#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet/sheet_json.hpp>
#include <tranche/sheet/write_sheet.hpp>

namespace write_sheet_laws {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("write_sheet: any sheet reads back from text and from JSON as it was") {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        CAPTURE(seed);
        const cut_sheet sheet = sheet_maker(seed).sheet();
        const std::string text = sheet_text(sheet);
        CAPTURE(text);
        const cut_sheet read = read_sheet(text);
        REQUIRE(read == sheet);
        CHECK(sheet_text(read) == text);
        const std::string json = sheet_json(sheet);
        const cut_sheet from_json = sheet_from_json(json);
        REQUIRE(from_json == sheet);
        CHECK(sheet_json(from_json) == json);
    }
}

TEST_CASE("read_sheet: means something or says what does not, whatever is lost of a sheet") {
    for (std::uint64_t seed = 0; seed < 6; ++seed) {
        const std::string text = sheet_text(sheet_maker(seed).sheet());
        std::size_t refused = 0;
        for (std::size_t at = seed; at < text.size(); at += 7) {
            std::string torn = text;
            torn.erase(at, 1 + at % 3);
            try {
                (void)read_sheet(torn);
            } catch (const invalid_input& error) {
                ++refused;
                CAPTURE(seed, at, error.what());
                CHECK_FALSE(error.field().empty());
                CHECK_FALSE(error.expected().empty());
            }
        }
        CHECK(refused > 10);
    }
}

} // namespace write_sheet_laws
