// Streams drawn side by side hold what each gives alone, whichever way the processor takes.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/random_streams.hpp>

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include <tranche/study/random/detail/philox_columns.hpp>
#include <tranche/study/random/study_inputs.hpp>

#include "support/catch.hpp"

namespace random_streams_test {

using namespace tranche;
using namespace tranche_test;

namespace {

constexpr std::uint64_t many = std::numeric_limits<std::uint64_t>::max();

/// Seeds, first replicates and purposes whose words carry into each other, and sizes about a multiple of 8.
template <class See>
void for_streams(See&& see) {
    for (const std::uint64_t seed : {std::uint64_t{1}, std::uint64_t{0xFFFFFFFF12345678}, many})
        for (const std::uint64_t first : {std::uint64_t{0}, std::uint64_t{0xFFFFFFFA}, many - 3})
            for (const std::uint32_t purpose : {0U, 17U, 0xFFFFFFFFU})
                for (const std::size_t count : {1U, 7U, 8U, 9U, 20U}) see(seed, first, count, purpose);
}

std::vector<double> alone(std::uint64_t seed, std::uint64_t replicate, std::uint32_t purpose, std::size_t draws) {
    random_stream stream(seed, replicate, purpose);
    std::vector<double> all;
    for (std::size_t d = 0; d < draws; ++d) all.push_back(stream.next_uniform());
    return all;
}

} // namespace

TEST_CASE("streams side by side give what each gives alone") {
    std::size_t wrong = 0, seen = 0;
    for_streams([&](std::uint64_t seed, std::uint64_t first, std::size_t count, std::uint32_t purpose) {
        const random_streams streams(seed, first, count, purpose);
        for (const std::size_t draws : {1U, 2U, 5U}) {
            std::vector<double> columns(draws * streams.stride());
            streams.uniforms(draws, columns);
            for (std::size_t j = 0; j < count; ++j) {
                const std::vector<double> expected = alone(seed, first + j, purpose, draws);
                for (std::size_t d = 0; d < draws; ++d, ++seen)
                    wrong += columns[d * streams.stride() + j] != expected[d] ? 1U : 0U;
            }
        }
    });
    CHECK(wrong == 0);
    CHECK(seen == 27 * 45 * 8);
}

TEST_CASE("a processor that does several streams in step comes to the bits of one that does not") {
    std::size_t wrong = 0;
    for_streams([&](std::uint64_t seed, std::uint64_t first, std::size_t count, std::uint32_t purpose) {
        const detail::stream_rows rows{seed, first, purpose, count};
        std::vector<double> plainly(3 * rows.stride()), here = plainly;
        detail::draw_columns_plainly(rows, 3, plainly.data());
        detail::draw_columns(rows, 3, here.data());
        for (std::size_t d = 0; d < 3; ++d)
            for (std::size_t j = 0; j < count; ++j)
                wrong += plainly[d * rows.stride() + j] != here[d * rows.stride() + j] ? 1U : 0U;
    });
    CHECK(wrong == 0);
}

TEST_CASE("columns lie a multiple of eight apart, and rooms of another size are refused") {
    const random_streams streams(1, 2, 9);
    CHECK(streams.size() == 9);
    CHECK(streams.stride() == 16);
    std::vector<double> columns(17);
    CHECK_THROWS_MATCHES(streams.uniforms(1, columns), invalid_input,
                         Message("columns: got 17 numbers, expected 1 columns of 16"));
    streams.uniforms(0, std::span<double>());
    random_streams(1, 2, 0).uniforms(3, std::span<double>()); // of no replicates
    CHECK_THROWS_AS(random_streams(1, 2, 0).uniforms(1, columns), invalid_input);
    CHECK(columns == std::vector<double>(17));
}

TEST_CASE("inputs drawn side by side are those drawn one by one") {
    const std::vector<study_input> list{{"a", distribution::uniform(-1.0, 3.0)},
                                        {"b", distribution::normal(5.0, 0.5)},
                                        {"c", distribution::triangular(0.0, 1.0, 4.0)},
                                        {"d", distribution::empirical({1.0, 2.0, 7.0})}};
    Eigen::MatrixXd third = Eigen::MatrixXd::Constant(4, 4, 1.0 / 3.0);
    third.diagonal().setOnes();
    for (const study_inputs& inputs : {study_inputs(list), study_inputs(list, third)}) {
        const random_streams streams(3, 100, 21, 2);
        std::vector<double> columns(4 * streams.stride());
        inputs.draw(streams, columns);
        std::size_t wrong = 0;
        for (std::size_t j = 0; j < 21; ++j) {
            random_stream stream(3, 100 + j, 2);
            std::vector<double> one(4);
            inputs.draw(stream, one);
            for (std::size_t i = 0; i < 4; ++i) wrong += columns[i * streams.stride() + j] != one[i] ? 1U : 0U;
        }
        CHECK(wrong == 0);
        columns.pop_back();
        CHECK_THROWS_AS(inputs.draw(streams, columns), invalid_input);
    }
}

} // namespace random_streams_test
