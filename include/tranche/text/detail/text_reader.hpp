// Walks over a text from left to right: numbers as people write them, units, names of currencies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include <tranche/text/detail/named_units.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche::detail {

struct vulgar_fraction {
    std::string_view glyph;
    double value;
};
inline constexpr std::array vulgar_fractions{
    vulgar_fraction{"¼", 1.0 / 4}, vulgar_fraction{"½", 1.0 / 2}, vulgar_fraction{"¾", 3.0 / 4},
    vulgar_fraction{"⅓", 1.0 / 3}, vulgar_fraction{"⅔", 2.0 / 3}, vulgar_fraction{"⅕", 1.0 / 5},
    vulgar_fraction{"⅖", 2.0 / 5}, vulgar_fraction{"⅗", 3.0 / 5}, vulgar_fraction{"⅘", 4.0 / 5},
    vulgar_fraction{"⅙", 1.0 / 6}, vulgar_fraction{"⅚", 5.0 / 6}, vulgar_fraction{"⅛", 1.0 / 8},
    vulgar_fraction{"⅜", 3.0 / 8}, vulgar_fraction{"⅝", 5.0 / 8}, vulgar_fraction{"⅞", 7.0 / 8},
};

/// Walks over a text from left to right.
class text_reader {
public:
    text_reader(std::string_view text, std::string_view field, std::string expected)
        : text_(text), field_(field), expected_(std::move(expected)) {}

    [[nodiscard]] static constexpr char small(char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }

    [[noreturn]] void fail(std::string_view what) const {
        std::size_t column = 1; // in characters: UTF-8 continuation bytes do not count
        for (const char c : text_.substr(0, at_)) column += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        throw invalid_input(std::string(field_), '"' + std::string(text_) + '"',
                            expected_ + " (" + std::string(what) + " at character " + std::to_string(column) + ')');
    }

    void skip_spaces() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
    }
    [[nodiscard]] bool done() const { return at_ == text_.size(); }
    [[nodiscard]] bool accept(std::string_view token) {
        if (!text_.substr(at_).starts_with(token)) return false;
        at_ += token.size();
        return true;
    }
    /// The same whatever the capitals; `token` is in small letters or in capitals.
    [[nodiscard]] bool accept_word(std::string_view token) {
        if (!stands_here(token)) return false;
        at_ += token.size();
        return true;
    }
    /// Code or sign of a currency, if it stands here. Fails at a sign that is another one's.
    [[nodiscard]] bool accept_currency(std::string_view code) {
        if (accept_word(code)) return true;
        for (const currency_sign& s : currency_signs) {
            if (!text_.substr(at_).starts_with(s.sign)) continue;
            if (s.codes.find(code) == std::string_view::npos)
                fail("a sign that does not stand for " + std::string(code));
            at_ += s.sign.size();
            return true;
        }
        return false;
    }
    /// What stands in front of the number of an amount: a sign, and code or sign of the currency.
    struct money_front {
        bool negative = false, named = false;
    };
    [[nodiscard]] money_front accept_money_front(std::string_view code) {
        const bool negative = accept_sign();
        skip_spaces();
        const bool named = accept_currency(code);
        skip_spaces();
        return {negative, named};
    }
    /// Behind the number: the code or sign, which need not stand there again. Fails where it stands nowhere.
    void accept_money_end(std::string_view code, bool named) {
        skip_spaces();
        if (!accept_currency(code) && !named) fail("no " + std::string(code));
        skip_spaces();
    }
    /// What is left of the text.
    [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }
    [[nodiscard]] bool at_digit(std::size_t ahead = 0) const {
        return at_ + ahead < text_.size() && text_[at_ + ahead] >= '0' && text_[at_ + ahead] <= '9';
    }

    /// True for a leading minus, which is then consumed; a leading plus is consumed too.
    [[nodiscard]] bool accept_sign() {
        skip_spaces();
        if (accept("-") || accept("−")) return true;
        (void)accept("+");
        return false;
    }

    /// A number with a sign or without. Fails where none stands.
    [[nodiscard]] double signed_number() {
        const bool negative = accept_sign();
        const auto value = number();
        if (!value) fail("no number");
        skip_spaces();
        return negative ? -*value : *value;
    }

    /// An unsigned number in one of the forms of `from_text`, or none if no number starts here. Unless `parted`, a stroke behind a
    /// whole number makes no fraction of it: $8/lb.
    [[nodiscard]] std::optional<double> number(bool parted = true) {
        skip_spaces();
        if (const auto glyph = fraction_glyph()) return glyph;
        if (!at_digit() && !(accept_peek('.') && at_digit(1))) return std::nullopt;
        const std::size_t start = at_;
        const double first = digits();
        if (text_.substr(start, at_ - start).find('.') != std::string_view::npos) return checked(first);
        if (at_ < text_.size() && text_[at_] == ',') fail("a comma; write a decimal point,");
        if (parted && accept("/")) return checked(first / denominator());
        // A fraction may follow a whole number: 1¾, 1 3/4, 1-3/4.
        const std::size_t after_whole = at_;
        if (!accept("-")) skip_spaces();
        if (const auto glyph = fraction_glyph()) return checked(first + *glyph);
        if (at_digit()) {
            const std::size_t above = at_;
            const double numerator = digits();
            const bool whole = text_.substr(above, at_ - above).find('.') == std::string_view::npos;
            if (whole && accept("/")) {
                const double part = numerator / denominator();
                if (part >= 1.0) fail("a fraction of one or more after a whole number");
                return checked(first + part);
            }
        }
        at_ = after_whole;
        return checked(first);
    }

    /// The one of `units` whose name stands here, the longest that does, and is not the beginning of a longer word.
    [[nodiscard]] const named_unit* unit(std::span<const named_unit> units) {
        skip_spaces();
        const named_unit* best = nullptr;
        std::size_t longest = 0;
        for (const named_unit& u : units)
            for (std::string_view names = u.names; !names.empty();) {
                const std::string_view name = names.substr(0, names.find(' '));
                names.remove_prefix(std::min(name.size() + 1, names.size()));
                if (name.size() > longest && stands_here(name)) best = &u, longest = name.size();
            }
        if (best == nullptr) return nullptr;
        const std::size_t end = at_ + longest;
        const bool word_goes_on = end < text_.size() && is_word(text_[end]) && is_word(text_[end - 1]);
        if (word_goes_on) return nullptr;
        at_ = end;
        if (is_word(text_[end - 1]) && accept_peek('.') && !at_digit(1)) ++at_; // 12 lb. 6 oz.
        return best;
    }

    /// The digit that stands here, consumed.
    [[nodiscard]] int next_digit() { return text_[at_++] - '0'; }

    void expect_end() {
        skip_spaces();
        if (!done()) fail("cannot read \"" + std::string(text_.substr(at_)) + '"');
    }

private:
    [[nodiscard]] static bool is_word(char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '/' ||
               (static_cast<unsigned char>(c) & 0x80U) != 0;
    }
    [[nodiscard]] bool stands_here(std::string_view token) const {
        if (text_.size() - at_ < token.size()) return false;
        for (std::size_t i = 0; i < token.size(); ++i)
            if (small(text_[at_ + i]) != small(token[i])) return false;
        return true;
    }
    [[nodiscard]] bool accept_peek(char c) const { return at_ < text_.size() && text_[at_] == c; }
    [[nodiscard]] std::optional<double> fraction_glyph() {
        for (const vulgar_fraction& f : vulgar_fractions)
            if (accept(f.glyph)) return f.value;
        return std::nullopt;
    }
    [[nodiscard]] double digits() {
        double value = 0.0;
        const char* const begin = text_.data() + at_;
        const auto [end, error] =
            number_from_chars(begin, text_.data() + text_.size(), value, std::chars_format::fixed);
        if (error != std::errc{}) fail("a number that is out of range");
        at_ += static_cast<std::size_t>(end - begin);
        if (text_[at_ - 1] == '.') fail("no digit behind the decimal point");
        return value;
    }
    [[nodiscard]] double denominator() {
        if (!at_digit()) fail("no whole number below the stroke of a fraction");
        const std::size_t start = at_;
        const double value = digits();
        if (text_.substr(start, at_ - start).find('.') != std::string_view::npos || value == 0.0)
            fail("no whole number above zero below the stroke of a fraction");
        return value;
    }
    [[nodiscard]] double checked(double value) const {
        if (!std::isfinite(value)) fail("a number that is out of range");
        return value;
    }

    std::string_view text_;
    std::string_view field_;
    std::string expected_;
    std::size_t at_ = 0;
};

} // namespace tranche::detail
