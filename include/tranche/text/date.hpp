// Days of the calendar from and to text.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <vector>

#include <tranche/units/detail/config.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

namespace detail {

[[nodiscard]] constexpr bool is_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// YYYY-MM-DD of ISO 8601; a day that is in no calendar is not `ok`. None for any other text.
[[nodiscard]] inline std::optional<std::chrono::year_month_day> iso_date(std::string_view text) {
    if (!(text.size() == 10 && text[4] == '-' && text[7] == '-' && is_digits(text.substr(0, 4)) &&
          is_digits(text.substr(5, 2)) && is_digits(text.substr(8))))
        return std::nullopt;
    const auto part = [&](std::size_t from, std::size_t digits) {
        int value = 0;
        std::from_chars(text.data() + from, text.data() + from + digits, value);
        return value;
    };
    return std::chrono::year_month_day{std::chrono::year(part(0, 4)),
                                       std::chrono::month(static_cast<unsigned>(part(5, 2))),
                                       std::chrono::day(static_cast<unsigned>(part(8, 2)))};
}

/// The month of an English name, or of its first three letters; 0 if it is none.
[[nodiscard]] inline unsigned month_named(std::string_view word) {
    constexpr std::array<std::string_view, 12> months{"january",   "february", "march",    "april",
                                                      "may",       "june",     "july",     "august",
                                                      "september", "october",  "november", "december"};
    std::string small;
    for (const char c : word) small += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    for (std::size_t m = 0; m < months.size(); ++m)
        if (small == months[m] || small == months[m].substr(0, 3)) return static_cast<unsigned>(m + 1);
    return 0;
}

} // namespace detail

/// A day: `2026-03-14` (ISO 8601), `14 March 2026`, `Mar 14, 2026`. A month in figures between strokes means one day to some and
/// another one to others, and is refused. Throws `invalid_input` naming `field`, also for a day that is not in the calendar.
/// O(length of the text).
[[nodiscard]] TRANCHE_COLD inline std::chrono::year_month_day date_from_text(std::string_view text,
                                                                             std::string_view field = "date") {
    const auto refuse = [&](const char* expected) {
        throw invalid_input(std::string(field), '"' + std::string(text) + '"', expected);
    };
    auto date = detail::iso_date(text);
    if (!date) {
        std::vector<std::string_view> words;
        for (std::size_t at = 0; (at = text.find_first_not_of(" ,.", at)) != std::string_view::npos;) {
            const std::size_t end = std::min(text.find_first_of(" ,.", at), text.size());
            words.push_back(text.substr(at, end - at));
            at = end;
        }
        const auto number = [](std::string_view word, std::size_t most_digits) {
            int value = 0;
            if (detail::is_digits(word) && word.size() <= most_digits)
                std::from_chars(word.data(), word.data() + word.size(), value);
            return value;
        };
        if (words.size() == 3) {
            const bool month_first = detail::month_named(words[0]) != 0;
            const unsigned month = detail::month_named(words[month_first ? 0 : 1]);
            const int day = number(words[month_first ? 1 : 0], 2), year = number(words[2], 4);
            if (month != 0 && day > 0 && words[2].size() == 4)
                date = std::chrono::year_month_day{std::chrono::year(year), std::chrono::month(month),
                                                   std::chrono::day(static_cast<unsigned>(day))};
        }
    }
    if (!date) refuse("a date such as 2026-03-14");
    if (!date->ok()) refuse("a day of the calendar");
    return *date;
}

/// "2026-03-14" (ISO 8601). The year has four digits at least. Throws nothing, and writes a day that is not in the
/// calendar as it is.
[[nodiscard]] TRANCHE_COLD inline std::string date_text(std::chrono::year_month_day date) {
    const auto digits = [](int value, std::size_t width) {
        std::string text = std::to_string(value);
        return std::string(width - std::min(width, text.size()), '0') + text;
    };
    return digits(static_cast<int>(date.year()), 4) + '-' +
           digits(static_cast<int>(static_cast<unsigned>(date.month())), 2) + '-' +
           digits(static_cast<int>(static_cast<unsigned>(date.day())), 2);
}

} // namespace tranche
