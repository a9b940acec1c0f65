// Feeds the reader of cutting records any bytes at all: it gives records or throws invalid_input, and what it gives can be
// summarised and is written and read back as it is.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <string_view>

#include <tranche/report/tables/record_tables.hpp>

namespace {

void expect(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "does not hold: " << what << '\n';
    std::abort();
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace tranche;
    try {
        const auto records = read_cutting_records({reinterpret_cast<const char*>(data), size});
        expect(!records.empty(), "a table has records");
        const std::string text = cutting_records_csv(records);
        expect(read_cutting_records(text) == records, "records come back from CSV");
        const record_summary summary = summarise_records(records);
        expect(summary.all.yield.mean >= 0.0 && summary.all.yield.mean <= 1.0, "the mean yield is a share");
        expect(learn_losses(records).purge.value < 1.0, "purge is less than the whole");
    } catch (const invalid_input& e) {
        expect(!e.field().empty() && !e.value().empty() && !e.expected().empty(), "an error says what and where");
    }
    return 0;
}
