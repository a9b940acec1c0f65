// Feeds the readers of cut sheets any bytes at all, as text and as JSON: they give a sheet or throw invalid_input, and what they
// give is written and read back as it is.
// SPDX-License-Identifier: BSL-1.0
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string>
#include <string_view>

#include <tranche/sheet/read_sheet.hpp>
#include <tranche/sheet/sheet_json.hpp>
#include <tranche/sheet/write_sheet.hpp>

namespace {

void expect(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "does not hold: " << what << '\n';
    std::abort();
}

template <class Read>
void check(const Read& read) {
    using namespace tranche;
    try {
        const cut_sheet sheet = read();
        expect(!sheet.loins.empty() && !sheet.cuts.empty(), "a sheet has a loin and a cut");
        expect(read_sheet(sheet_text(sheet)) == sheet, "a sheet comes back from text");
        expect(sheet_from_json(sheet_json(sheet)) == sheet, "a sheet comes back from JSON");
    } catch (const invalid_input& e) {
        expect(!e.field().empty() && !e.value().empty() && !e.expected().empty(), "an error says what and where");
        const std::string_view said = e.what();
        expect(std::none_of(said.begin(), said.end(),
                            [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }),
               "an error is one line that no terminal takes for a command");
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    check([&] { return tranche::read_sheet(bytes); });
    check([&] { return tranche::sheet_from_json(bytes); });
    return 0;
}
