// Feeds the reader of studies any bytes at all, as they are and with the hash that belongs to them: it gives a study or throws
// invalid_input, and what it gives is written as it was read, merges and can be asked for all that studies say.
// SPDX-License-Identifier: BSL-1.0
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <vector>

#include <tranche/study/run/study_bytes.hpp>
#include <tranche/study/summary/estimates.hpp>
#include <tranche/study/summary/tolerance_limits.hpp>

namespace {

void expect(bool holds, const char* what) {
    if (holds) return;
    std::cerr << "does not hold: " << what << '\n';
    std::abort();
}

void read(const std::vector<std::byte>& bytes) {
    using namespace tranche;
    try {
        const study_result r = read_study_bytes(bytes);
        expect(study_bytes(r) == bytes, "bytes come back");
        for (const exact_summary& s : r.summaries()) {
            expect(s.count() < 2 || *s.variance() >= 0.0, "a variance is not negative");
            expect(s.count() == 0 || (*s.least() <= *s.most() && s.histogram().size() >= 1), "values lie in bins");
            expect(estimate_quantiles(s, {0.01, 0.5}).size() == (s.count() > 0 ? 2U : 0U), "values have quantiles");
            (void)find_tolerance_limits(s);
        }
        study_result other(r.title(), r.seed(), r.outline());
        other.merge(r);
        expect(other == r, "nothing and a study is the study");
    } catch (const invalid_input& e) {
        expect(!e.field().empty() && !e.value().empty() && !e.expected().empty(), "an error says what and where");
    }
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::vector<std::byte> bytes;
    for (std::size_t i = 0; i < size; ++i) bytes.push_back(static_cast<std::byte>(data[i]));
    read(bytes);
    std::uint64_t hash = tranche::detail::hash_of(bytes);
    for (int i = 0; i < 8; ++i, hash >>= 8U) bytes.push_back(static_cast<std::byte>(hash & 0xffU));
    read(bytes);
    return 0;
}
