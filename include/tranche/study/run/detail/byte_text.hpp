// Numbers and texts as bytes, the same on every machine, and read back strictly.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/wide_integer.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

/// FNV-1a, 64 bits (Fowler, Noll and Vo, RFC 9923): each byte changes the hash one to one, so no single changed byte goes unseen.
[[nodiscard]] constexpr std::uint64_t hash_of(std::span<const std::byte> bytes) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const std::byte b : bytes) hash = (hash ^ static_cast<std::uint64_t>(b)) * 1099511628211ULL;
    return hash;
}

class byte_writer {
public:
    /// Eight bytes, the lowest first.
    void number(std::uint64_t value) {
        for (unsigned shift = 0; shift < 64; shift += 8)
            bytes_.push_back(static_cast<std::byte>(value >> shift & 0xffU));
    }
    void number(std::int64_t value) { number(static_cast<std::uint64_t>(value)); }
    void number(double value) { number(std::bit_cast<std::uint64_t>(value)); }
    /// Its size, high half, low half, and whether it is below zero.
    void number(const wide_integer& value) {
        const wide_integer size = value < 0 ? -value : value;
        number(static_cast<std::uint64_t>(size >> 64U));
        number(static_cast<std::uint64_t>(size & wide_integer{~std::uint64_t{0}}));
        number(std::uint64_t{value < 0});
    }
    void text(std::string_view words) {
        number(std::uint64_t{words.size()});
        for (const char c : words) bytes_.push_back(static_cast<std::byte>(c));
    }

    [[nodiscard]] const std::vector<std::byte>& bytes() const { return bytes_; }

private:
    std::vector<std::byte> bytes_{};
};

[[noreturn]] TRANCHE_COLD inline void refuse_bytes(const std::string& what) {
    throw invalid_input("study", what, "the bytes of a study as they were written");
}

/// Throws `invalid_input` where bytes end too soon.
class byte_reader {
public:
    explicit byte_reader(std::span<const std::byte> bytes) : left_(bytes) {}

    [[nodiscard]] std::uint64_t number() {
        if (left_.size() < 8) refuse_bytes("bytes that end too soon");
        std::uint64_t value = 0;
        for (std::size_t i = 8; i-- > 0;) value = value << 8U | static_cast<std::uint64_t>(left_[i]);
        left_ = left_.subspan(8);
        return value;
    }
    [[nodiscard]] std::int64_t signed_number() { return static_cast<std::int64_t>(number()); }
    [[nodiscard]] double real_number() { return std::bit_cast<double>(number()); }
    [[nodiscard]] wide_integer wide_number() {
        const std::uint64_t high = number(), low = number(), below = number();
        if (high >> 63U != 0 || below > 1 || (below == 1 && high == 0 && low == 0))
            refuse_bytes("a sum that is no whole number");
        const wide_integer size = (wide_integer{high} << 64U) + wide_integer{low};
        return below == 1 ? wide_integer{-size} : size;
    }
    /// A number of things of which each takes `least` bytes and more, so that what cannot be is not made room for.
    [[nodiscard]] std::size_t count(std::size_t least) {
        const std::uint64_t value = number();
        if (value > left_.size() / least) refuse_bytes("bytes that end too soon");
        return static_cast<std::size_t>(value);
    }
    [[nodiscard]] std::string text() {
        std::string words(count(1), ' ');
        for (std::size_t i = 0; i < words.size(); ++i) words[i] = static_cast<char>(left_[i]);
        left_ = left_.subspan(words.size());
        return words;
    }
    [[nodiscard]] bool at_end() const { return left_.empty(); }

private:
    std::span<const std::byte> left_;
};

} // namespace tranche::detail
