// Which bits a stream hands out, and that they are even.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/study/random/random_stream.hpp>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <set>
#include <vector>

#include "support/catch.hpp"

namespace random_stream_test {

using namespace tranche;
using namespace tranche_test;

TEST_CASE("a stream hands out the blocks of Philox, two draws each") {
    random_stream stream(0x0000000200000001, 0x0000000400000003, 5);
    for (std::uint32_t block = 0; block < 3; ++block) {
        const auto words = philox_words({block, 5, 3, 4}, {1, 2});
        const std::uint64_t earlier = stream.next_bits();
        const std::uint64_t later = stream.next_bits();
        CHECK(earlier == (std::uint64_t{words[1]} << 32U | words[0]));
        CHECK(later == (std::uint64_t{words[3]} << 32U | words[2]));
    }
}

TEST_CASE("seeds, replicates and purposes have streams of their own") {
    std::set<std::uint64_t> firsts;
    for (const std::uint64_t seed : {0U, 1U, 2U})
        for (const std::uint64_t replicate : {0U, 1U, 2U})
            for (const std::uint32_t purpose : {0U, 1U, 2U}) {
                random_stream stream(seed, replicate, purpose);
                firsts.insert(stream.next_bits());
            }
    CHECK(firsts.size() == 27);
}

TEST_CASE("a copy of a stream draws what the stream draws") {
    random_stream stream(7, 8, 9);
    CHECK(stream.next_bits() != 0); // one draw in 2^64
    random_stream copy = stream;
    const double of_stream = stream.next_uniform(), of_copy = copy.next_uniform();
    CHECK(of_stream == of_copy);
}

TEST_CASE("uniform numbers are never 0 or 1, whatever the bits") {
    // The least and the most that 52 bits make of the formula of `next_uniform`.
    constexpr double least = (0.0 + 0.5) * 0x1p-52, most = (static_cast<double>((1ULL << 52U) - 1) + 0.5) * 0x1p-52;
    CHECK(least > 0.0);
    CHECK(most < 1.0);
    CHECK(1.0 - most == least);
    constexpr random_stream start(1);
    random_stream stream = start, same = start;
    for (int i = 0; i < 100; ++i) {
        const std::uint64_t bits = same.next_bits();
        CHECK(stream.next_uniform() == (static_cast<double>(bits >> 12U) + 0.5) * 0x1p-52);
    }
}

namespace {

/// Of 16,000 draws in 16 classes. A lambda would be constexpr, and g++ 12 would try all of them while it compiles.
template <class Draw>
double chi_squared(const Draw& draw) {
    std::array<int, 16> counts{};
    for (int i = 0; i < 16'000; ++i) ++counts[static_cast<std::size_t>(draw(i) * 16.0)];
    double sum = 0.0;
    for (const int count : counts) sum += (count - 1000.0) * (count - 1000.0) / 1000.0;
    return sum;
}

} // namespace

TEST_CASE("uniform numbers fill 16 classes evenly, within a stream and across replicates") {
    // With 15 degrees of freedom: above 37.7 once in 1000 (NIST/SEMATECH e-Handbook, section 1.3.6.7.4). The seeds are fixed, so this
    // passes always or never.
    random_stream stream(42);
    CHECK(chi_squared([&](int) { return stream.next_uniform(); }) < 37.7);
    CHECK(chi_squared([](int i) { return random_stream(42, static_cast<std::uint64_t>(i)).next_uniform(); }) < 37.7);
    CHECK(chi_squared([](int i) { return random_stream(static_cast<std::uint64_t>(i)).next_uniform(); }) < 37.7);
}

TEST_CASE("numbers drawn together are those drawn one by one") {
    for (std::size_t before = 0; before < 3; ++before)
        for (std::size_t count = 0; count < 6; ++count) {
            random_stream one(7, 8, 9), together(7, 8, 9);
            for (std::size_t i = 0; i < before; ++i) {
                const double here = one.next_uniform();
                const double there = together.next_uniform();
                CHECK(here == there);
            }
            std::vector<double> all(count);
            together.next_uniforms(all);
            for (const double u : all) CHECK(u == one.next_uniform());
            CHECK(together.next_bits() == one.next_bits());
        }
}

} // namespace random_stream_test
