// A small writer of SVG: elements, escaped text, numbers without a locale; and the palette of the pictures.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/report/formats/plain_text.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/require.hpp>

namespace tranche::detail {

/// The colours of Okabe and Ito (2008, Color Universal Design), which people with the common kinds of colour blindness
/// tell apart. Where two would be alike in greyscale, a picture adds a pattern.
namespace palette {
inline constexpr std::string_view black = "#000000", orange = "#E69F00", sky_blue = "#56B4E9", bluish_green = "#009E73",
                                  yellow = "#F0E442", blue = "#0072B2", vermillion = "#D55E00",
                                  reddish_purple = "#CC79A7";
} // namespace palette

/// Printable text with & < > " and ' replaced, fit for the content of XML and HTML and for attributes in quotes.
template <class = when_called>
[[nodiscard]] std::string escape_xml(std::string_view text) {
    std::string result = printable(text);
    const auto is_mark = [](char c) { return c == '&' || c == '<' || c == '>' || c == '"' || c == '\''; };
    auto at = static_cast<std::size_t>(std::find_if(result.begin(), result.end(), is_mark) - result.begin());
    if (at == result.size()) return result;
    const std::string plain = std::move(result);
    result.assign(plain, 0, at);
    for (; at < plain.size(); ++at) {
        switch (plain[at]) {
        case '&': result += "&amp;"; break;
        case '<': result += "&lt;"; break;
        case '>': result += "&gt;"; break;
        case '"': result += "&quot;"; break;
        case '\'': result += "&#39;"; break;
        default: result += plain[at];
        }
    }
    return result;
}

/// How wide a letter is at most in the usual sans-serif faces, in sizes of the letter (measured on a wide one).
[[nodiscard]] constexpr double letter_ems(char32_t c) {
    constexpr auto ascii = [] {
        std::array<double, 128> ems{};
        ems.fill(0.64);
        for (char letter = 'A'; letter <= 'Z'; ++letter) ems[static_cast<std::size_t>(letter)] = 0.80;
        for (const char letter : std::string_view("mwMW@%")) ems[static_cast<std::size_t>(letter)] = 1.0;
        for (const char letter : std::string_view("iljI.,:;'| ")) ems[static_cast<std::size_t>(letter)] = 0.36;
        return ems;
    }();
    if (c < ascii.size()) return ascii[c];
    return c == U'…' ? 1.0 : c == U'×' ? 0.80 : width_of(c) == 2 ? 1.05 : 0.64;
}

/// About how wide printable `text` is when drawn, in sizes of its letters: an estimate that errs to the wide side.
template <class = when_called>
[[nodiscard]] double ems_of(std::string_view text) {
    double ems = 0.0;
    for (std::size_t at = 0; at < text.size();) {
        const code_point c = code_point_at(text, at);
        ems += letter_ems(c.value);
        at += c.bytes;
    }
    return ems;
}

/// The same in the units of the picture, for letters of this size. Bold letters are a tenth wider.
template <class = when_called>
[[nodiscard]] double width_of_text(std::string_view text, double size, bool bold = false) {
    return ems_of(text) * size * (bold ? 1.1 : 1.0);
}

/// Printable `text` shortened, with an ellipsis, until it is no wider than `ems` by that estimate: the longest start of it
/// that fits, without a space or a comma at its end; the ellipsis alone where nothing does. O(length).
template <class = when_called>
[[nodiscard]] std::string fitted(std::string_view text, double ems) {
    if (ems_of(text) <= ems || columns_of(text) <= 1) return std::string(text);
    double sum = letter_ems(U'…');
    std::size_t kept = 0;
    for (std::size_t at = 0; at < text.size();) {
        // A letter goes with the marks on it.
        const std::size_t start = at;
        do {
            const code_point c = code_point_at(text, at);
            sum += letter_ems(c.value);
            at += c.bytes;
        } while (at < text.size() && width_of(code_point_at(text, at).value) == 0);
        if (const std::string_view letter = text.substr(start, at - start); letter == " " || letter == ",") continue;
        if (sum > ems) break;
        kept = at;
    }
    return std::string(text.substr(0, kept)) + "…";
}

/// Sentences one after the other, in lines no wider than `room` except where one alone is. O(length).
template <class = when_called>
[[nodiscard]] std::vector<std::string> filled_lines(const std::vector<std::string>& sentences, double room, double size,
                                                    bool bold = false) {
    std::vector<std::string> lines;
    for (const std::string& next : sentences) {
        if (!lines.empty() && width_of_text(lines.back() + ' ' + next, size, bold) <= room)
            lines.back() += ' ' + next;
        else
            lines.push_back(next);
    }
    return lines;
}

/// Numbers whose digits fit into 64 bits, with six decimals too.
[[nodiscard]] inline bool is_drawable(double number) { return std::abs(number) < 9e8; }

/// Writes a number that is drawable with at most so many decimals, 0 to 6, and no exponent; at most 18 letters. Gives where it
/// ends.
inline char* write_number(char* at, double number, int decimals) {
    constexpr std::array<std::int64_t, 7> tens{1, 10, 100, 1000, 10'000, 100'000, 1'000'000};
    std::int64_t count = std::llrint(number * static_cast<double>(tens[static_cast<std::size_t>(decimals)]));
    if (count < 0) *at++ = '-', count = -count;
    while (decimals > 0 && count % 10 == 0) --decimals, count /= 10;
    std::array<char, 20> digits{}; // backwards
    std::size_t size = 0;
    const auto take = [&] { digits[size++] = static_cast<char>('0' + count % 10), count /= 10; };
    for (int k = 0; k < decimals; ++k) take();
    if (decimals > 0) digits[size++] = '.';
    do take();
    while (count > 0);
    while (size > 0) *at++ = digits[--size];
    return at;
}

/// A number with at most so many decimals, 0 to 6, and no exponent, as long as it is below 900 million.
template <class = when_called>
void append_number(std::string& text, double number, int decimals = 4) {
    if (!is_drawable(number)) {
        text += shown(number, decimals);
        return;
    }
    std::array<char, 32> letters{}; // appended at once
    const char* const end = write_number(letters.data(), number, decimals);
    text.append(letters.data(), static_cast<std::size_t>(end - letters.data()));
}
template <class = when_called>
[[nodiscard]] std::string svg_number(double number, int decimals = 4) {
    std::string text;
    append_number(text, number, decimals);
    return text;
}

/// What a picture has put together of letters and numbers, and which needs no escaping: the data of a path. It is not copied.
struct svg_data {
    std::string_view text;
};

/// Name and value of an attribute; one without a value is not written.
struct svg_attribute {
    std::string_view name;
    std::string value{};
    std::string_view data{}; ///< in place of a value

    svg_attribute(std::string_view n, const svg_data& made) : name(n), data(made.text) {}

    svg_attribute(std::string_view n, std::string_view text) : name(n), value(escape_xml(text)) {}
    svg_attribute(std::string_view n, const char* text) : svg_attribute(n, std::string_view(text)) {}
    svg_attribute(std::string_view n, double number) : name(n), value(svg_number(number)) {}
};

/// Writes elements one after the other; what was opened must be closed in reverse.
class svg_writer {
public:
    using attributes = std::vector<svg_attribute>;

    void open(std::string_view element, const attributes& list) { start(element, list, ">\n"); }
    void close(std::string_view element) { (text_ += "</").append(element) += ">\n"; }
    void add(std::string_view element, const attributes& list) { start(element, list, "/>\n"); }
    void add(std::string_view element, const attributes& list, std::string_view content) {
        start(element, list, ">");
        ((text_ += escape_xml(content)) += "</").append(element) += ">\n";
    }
    [[nodiscard]] const std::string& text() const { return text_; }
    /// The same, from a writer that is done.
    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    void start(std::string_view element, const attributes& list, std::string_view end) {
        (text_ += '<').append(element);
        for (const svg_attribute& a : list) {
            const std::string_view value = a.data.empty() ? std::string_view(a.value) : a.data;
            if (!value.empty()) ((text_ += ' ').append(a.name) += "=\"").append(value) += '"';
        }
        text_ += end;
    }

    std::string text_;
};

} // namespace tranche::detail
