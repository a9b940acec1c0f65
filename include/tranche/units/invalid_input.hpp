// The exception for a value from outside that cannot be right: which field, what was given, what was expected.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/sentence.hpp>

namespace tranche {

/// A bad value in text, in a file or among measurements. `what()` reads "FIELD: got VALUE, expected EXPECTATION".
/// Lengths and masses among the words may be given as such (see `sentence`): then whoever shows the error chooses the units.
/// What is merely impossible (no plan meets the limits) is a result and never this exception.
class invalid_input : public std::invalid_argument {
public:
    /// `field` names what is wrong, `value` says what was given and `expected` what would do; any text. Throws nothing
    /// but for lack of memory, and so do the members.
    TRANCHE_COLD invalid_input(std::string field, sentence value, sentence expected)
        : std::invalid_argument(field + ": got " + value.text() + ", expected " + expected.text()),
          field_(std::move(field)), value_(value.text()), expected_(expected.text()), value_words_(std::move(value)),
          expected_words_(std::move(expected)) {}

    /// The field, as the caller or the file names it. Never throws.
    [[nodiscard]] const std::string& field() const noexcept { return field_; }
    /// The value as given. Never throws.
    [[nodiscard]] const std::string& value() const noexcept { return value_; }
    /// What would have been accepted. Never throws.
    [[nodiscard]] const std::string& expected() const noexcept { return expected_; }

    /// `value()` and `expected()` with the quantities that were given as such. Never throws.
    [[nodiscard]] const sentence& value_words() const noexcept { return value_words_; }
    /// As `value_words`, of what would have been accepted. Never throws.
    [[nodiscard]] const sentence& expected_words() const noexcept { return expected_words_; }

private:
    std::string field_, value_, expected_;
    sentence value_words_, expected_words_;
};

/// `inner` again, with `outer` put before its field: "stations[2].width" from "width" and "stations[2].". Any text will
/// do for `outer`. The quantities of the error stay quantities. Throws nothing but for lack of memory.
[[nodiscard]] TRANCHE_COLD inline invalid_input within(std::string_view outer, const invalid_input& inner) {
    return {std::string(outer) + inner.field(), inner.value_words(), inner.expected_words()};
}

} // namespace tranche
