// Results as bytes and in files: there and back, and nothing else is read.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/run/study_bytes.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <random>
#include <span>
#include <string>
#include <vector>

#include <tranche/study/run/run_study.hpp>
#include <tranche/study/run/study_of_inputs.hpp>

#include "study/run/small_study.hpp"
#include "support/catch.hpp"

namespace study_bytes_test {

using namespace tranche;
using namespace tranche_test;
using small_study::prism_slices;
using bytes = std::vector<std::byte>;

std::string refusal(const bytes& wrong) {
    try {
        (void)read_study_bytes(wrong);
    } catch (const invalid_input& error) {
        return error.what();
    }
    return "read";
}

/// With the hash that belongs to them, so that what is behind the hash has to see what is wrong.
bytes hashed(bytes content) {
    content.resize(content.size() - 8);
    std::uint64_t hash = detail::hash_of(content);
    for (int i = 0; i < 8; ++i, hash >>= 8U) content.push_back(static_cast<std::byte>(hash & 0xffU));
    return content;
}

TEST_CASE("a result is read as it was written") {
    study_result r =
        run_study(prism_slices{}, {.title = "slices of 30 mm", .seed = 9, .replicates = 5000}, shard(1, 3));
    CHECK(read_study_bytes(study_bytes(r)) == r);
    CHECK(study_digest(read_study_bytes(study_bytes(r))) == study_digest(r));
    const study_result none("", 0, prism_slices{}.outline());
    CHECK(read_study_bytes(study_bytes(none)) == none);
    // Negative and large sums, and bins that had to become wider.
    const study_of wide(study_outline{{{"x", 0.5, 3}}, {}},
                        [](const study_replicate& replicate, std::span<std::int64_t> outputs) {
                            const auto bits = static_cast<std::int64_t>(replicate.stream().next_bits() >> 17U);
                            outputs[0] = replicate.number() % 3 == 0 ? bits : -bits;
                        });
    const study_result w = run_study(wide, {.replicates = 70'000});
    CHECK(w["x"].bin_width() > 3);
    CHECK(*w["x"].mean() < 0.0);
    CHECK(read_study_bytes(study_bytes(w)) == w);
}

TEST_CASE("what is read can be gone on with and merged") {
    const study_options options{.replicates = 1000};
    study_result a = read_study_bytes(study_bytes(run_study(prism_slices{}, options, shard(0, 2))));
    a.merge(read_study_bytes(study_bytes(run_study(prism_slices{}, options, shard(1, 2)))));
    CHECK(a == run_study(prism_slices{}, options));
}

TEST_CASE("any byte that is missing, added or changed is seen") {
    const bytes right = study_bytes(run_study(prism_slices{}, {.title = "t", .replicates = 200}));
    CHECK(refusal(right) == "read");
    std::size_t unseen = 0;
    for (std::size_t i = 0; i < right.size(); ++i) {
        bytes changed = right;
        changed[i] ^= std::byte{1};
        bytes shorter = right;
        shorter.erase(shorter.begin() + static_cast<std::ptrdiff_t>(i));
        bytes cut(right.begin(), right.begin() + static_cast<std::ptrdiff_t>(i));
        unseen += (refusal(changed) == "read") + (refusal(shorter) == "read") + (refusal(cut) == "read");
    }
    CHECK(unseen == 0);
    bytes longer = right;
    longer.push_back(std::byte{0});
    CHECK(refusal(longer) == "study: got missing or changed bytes, expected the bytes of a study as they were written");
    CHECK(refusal({}) == "study: got 0 bytes, expected the bytes of a study as they were written");
    CHECK(refusal(bytes(100)) ==
          "study: got no mark of a study at the beginning, expected the bytes of a study as they were written");
    bytes newer = right;
    newer[8 + 14] = std::byte{2};
    CHECK(refusal(hashed(newer)) == "study: got version 2 of the format, or changed bytes, expected version 1");
}

TEST_CASE("bytes whose hash is right but that no study comes to never crash, and what is read is a study") {
    // Each byte of a small result set to others, with the hash made right: either refused, or read as something that is written back
    // as it was read.
    const bytes right = study_bytes(run_study(prism_slices{}, {.title = "t", .replicates = 90}));
    std::size_t refused = 0, read = 0, wrong = 0;
    for (std::size_t i = 8 + 14 + 8; i + 8 < right.size(); ++i)
        for (const int other : {0, 1, 0x7f, 0x80, 0xff}) {
            bytes changed = right;
            changed[i] = static_cast<std::byte>(other);
            changed = hashed(std::move(changed));
            try {
                const study_result r = read_study_bytes(changed);
                ++read;
                wrong += study_bytes(r) != changed;
            } catch (const invalid_input&) {
                ++refused;
            }
        }
    CHECK(wrong == 0);
    CHECK(refused > read);
}

TEST_CASE("files are written whole, read again, and named when they cannot be") {
    const auto directory =
        std::filesystem::temp_directory_path() / ("tranche_study_" + std::to_string(std::random_device{}()));
    std::filesystem::create_directory(directory);
    const auto path = directory / "part.study";
    const study_result r = run_study(prism_slices{}, {.replicates = 100});
    write_study_file(path, run_study(prism_slices{}, {.replicates = 50}));
    write_study_file(path, r);
    CHECK(read_study_file(path) == r);
    CHECK_FALSE(std::filesystem::exists(directory / "part.study.part"));
    std::ofstream(path, std::ios::app) << 'x';
    CHECK_THROWS_WITH(read_study_file(path), ContainsSubstring("part.study: study: got missing or changed bytes"));
    CHECK_THROWS_WITH(read_study_file(directory / "none"), ContainsSubstring("a file that cannot be read"));
    CHECK_THROWS_WITH(write_study_file(directory / "no" / "where", r),
                      ContainsSubstring("a file that cannot be written"));
    std::filesystem::remove_all(directory);
}

TEST_CASE("a study has the digest that it has with every compiler") {
    // Computed with g++ 12 and clang 14, with and without optimisation and fused multiply-add, which agree: all shapes of
    // distributions, and a copula.
    const study_inputs inputs({{"a", distribution::normal(5.0, 0.5)},
                               {"b", distribution::lognormal(6.0, 2.0)},
                               {"c", distribution::triangular(1.0, 2.0, 4.0)},
                               {"d", distribution::truncated_normal(0.0, 1.0, 1.0, 3.0)},
                               {"e", distribution::beta(2.0, 3.0)},
                               {"f", distribution::empirical({1.0, 2.0, 5.0})},
                               {"g", distribution::uniform(-1.0, 1.0)}},
                              [] {
                                  Eigen::MatrixXd m = Eigen::MatrixXd::Constant(7, 7, 0.3);
                                  m.diagonal().setOnes();
                                  return m;
                              }());
    study_outline outline;
    for (const study_input& input : inputs.inputs())
        outline.outputs.push_back({input.name, 0x1p-40, std::int64_t{1} << 30U});
    const study_of model(outline, [&](const study_replicate& replicate, std::span<std::int64_t> outputs) {
        std::array<double, 7> x{};
        auto stream = replicate.stream();
        inputs.draw(stream, x);
        for (std::size_t i = 0; i < x.size(); ++i) outputs[i] = std::llround(x[i] * 0x1p40);
    });
    CHECK(study_digest(run_study(model, {.replicates = 2000})) == 65282031327035463ULL);
    const study_of_inputs at_once(inputs, outline.outputs, [](std::span<const double> x, std::span<double> out) {
        for (std::size_t i = 0; i < x.size(); ++i) out[i] = x[i];
    });
    CHECK(study_digest(run_study(at_once, {.replicates = 2000})) == 65282031327035463ULL);
    CHECK(study_digest(run_study(prism_slices{}, {.replicates = 5000}, threads(2))) == 7494749262833556127ULL);
}

} // namespace study_bytes_test
