// Quantities out of text as a person writes them; strict, and clear about what could not be read and where.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>

#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/detail/number_from_chars.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// Reads a `Quantity` from the whole of `text`; `field` names it in errors.
///
/// Numbers: `12`, `12.5`, `3/4`, `1 1/4`, `1-1/4`, `¾`, `1¾`, with a decimal point and no exponent, no thousands mark.
/// - `mass`: kg, g, lb, oz, and `12 lb 6 oz`;
/// - `length`: mm, cm, m, in, ft (also `"` and `inch`), and `1 ft 4 in`;
/// - `duration`: h, min, s, and `1 h 20 min`;
/// - `density`: `kg/m3`, `g/cm3` (also `³`);
/// - `fraction`: `30 %` or a plain `0.3`;
/// - `money<C>`, `amount<C>`: `7.90 USD`; `unit_price<C>`: `7.90 USD/lb` (kg, g, lb, oz), `1.74 USD/100 g`; `wage<C>`: `18
/// USD/h`. The first number may have a sign. Throws `invalid_input` with the text, what could not be read, at which
/// character (counted from 1) and what was expected. O(length of the text).
template <class Quantity>
[[nodiscard]] Quantity from_text(std::string_view text, std::string_view field = "quantity");

namespace detail {

struct named_unit {
    std::string_view name;
    double si; ///< one of it in SI units
    int rank;  ///< units of a compound descend in rank: lb before oz. 0: never in a compound
};

inline constexpr std::array mass_units{
    named_unit{"kg", kilogram.value(), 0}, named_unit{"g", gram.value(), 0},   named_unit{"lb", pound.value(), 2},
    named_unit{"lbs", pound.value(), 2},   named_unit{"oz", ounce.value(), 1},
};
inline constexpr std::array length_units{
    named_unit{"mm", millimetre.value(), 0}, named_unit{"cm", centimetre.value(), 0}, named_unit{"m", metre.value(), 0},
    named_unit{"in", inch.value(), 1},       named_unit{"inch", inch.value(), 1},     named_unit{"\"", inch.value(), 1},
    named_unit{"ft", foot.value(), 2},
};
inline constexpr std::array duration_units{
    named_unit{"h", 3600.0, 3},
    named_unit{"min", 60.0, 2},
    named_unit{"s", 1.0, 1},
};
inline constexpr std::array density_units{
    named_unit{"kg/m3", 1.0, 0},
    named_unit{"kg/m³", 1.0, 0},
    named_unit{"g/cm3", 1000.0, 0},
    named_unit{"g/cm³", 1000.0, 0},
};

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

    /// An unsigned number in one of the forms of `from_text`, or none if no number starts here.
    [[nodiscard]] std::optional<double> number() {
        skip_spaces();
        if (const auto glyph = fraction_glyph()) return glyph;
        if (!at_digit() && !(accept_peek('.') && at_digit(1))) return std::nullopt;
        const std::size_t start = at_;
        const double first = digits();
        if (text_.substr(start, at_ - start).find('.') != std::string_view::npos) return checked(first);
        if (at_ < text_.size() && text_[at_] == ',') fail("a comma; write a decimal point,");
        if (accept("/")) return checked(first / denominator());
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

    /// The longest of `units` that stands here and is not the beginning of a longer word.
    [[nodiscard]] const named_unit* unit(std::span<const named_unit> units) {
        skip_spaces();
        const named_unit* best = nullptr;
        for (const named_unit& u : units) {
            if (!text_.substr(at_).starts_with(u.name)) continue;
            if (best == nullptr || u.name.size() > best->name.size()) best = &u;
        }
        if (best == nullptr) return nullptr;
        const std::size_t end = at_ + best->name.size();
        const bool word_goes_on = end < text_.size() && is_word(text_[end]) && is_word(text_[end - 1]);
        if (word_goes_on) return nullptr;
        at_ = end;
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

/// number unit [number unit ...] with units of descending rank, in SI.
[[nodiscard]] inline double read_compound(std::string_view text, std::string_view field, std::string expected,
                                          std::span<const named_unit> units) {
    text_reader in(text, field, std::move(expected));
    const bool negative = in.accept_sign();
    double total = 0.0;
    const named_unit* previous = nullptr;
    do {
        const auto value = in.number();
        if (!value) in.fail("no number");
        const named_unit* const unit = in.unit(units);
        if (unit == nullptr) in.fail("no such unit");
        if (previous != nullptr && (unit->rank == 0 || previous->rank <= unit->rank))
            in.fail("units that cannot follow one another");
        // 12 in is a last bit short of 1 ft in binary.
        if (previous != nullptr && *value * unit->si >= previous->si * (1.0 - 1e-12))
            in.fail("more than one of the larger unit");
        total += *value * unit->si;
        previous = unit;
        in.skip_spaces();
    } while (!in.done());
    if (!std::isfinite(total)) in.fail("a number that is out of range");
    return negative ? -total : total;
}

/// number CODE / unit, or number CODE / number unit, in currency units per SI unit. The code must be `C`'s.
template <currency C>
[[nodiscard]] double read_rate(std::string_view text, std::string_view field, std::string expected,
                               std::span<const named_unit> per) {
    text_reader in(text, field, std::move(expected));
    const bool negative = in.accept_sign();
    const auto value = in.number();
    if (!value) in.fail("no number");
    in.skip_spaces();
    if (!in.accept(C::code)) in.fail("no " + std::string(C::code));
    in.skip_spaces();
    if (!per.empty()) {
        if (!in.accept("/")) in.fail("no stroke");
        const double units = in.number().value_or(1.0);
        if (!(units > 0.0)) in.fail("nothing to divide by");
        const named_unit* const unit = in.unit(per);
        if (unit == nullptr) in.fail("no such unit");
        in.expect_end();
        const double rate = *value / (units * unit->si);
        if (!std::isfinite(rate)) in.fail("a number that is out of range");
        return negative ? -rate : rate;
    }
    in.expect_end();
    return negative ? -*value : *value;
}

[[nodiscard]] inline fraction read_fraction(std::string_view text, std::string_view field) {
    text_reader in(text, field, "a share such as 30 % or 0.3");
    const bool negative = in.accept_sign();
    const auto value = in.number();
    if (!value) in.fail("no number");
    in.skip_spaces();
    const double share = in.accept("%") ? *value / 100.0 : *value;
    in.expect_end();
    return negative ? -share : share;
}

template <currency C>
[[nodiscard]] std::string such_as(std::string_view kind, std::string_view rest) {
    const std::string_view number = C::minor_digits == 0 ? "790 " : C::minor_digits == 3 ? "7.900 " : "7.90 ";
    return std::string(kind) + " such as " + std::string(number) + std::string(C::code) + std::string(rest);
}

/// Digit by digit, so that every amount that can be written can be read: no detour over binary fractions.
template <currency C>
[[nodiscard]] amount<C> read_amount(std::string_view text, std::string_view field) {
    text_reader in(text, field, such_as<C>("an amount", ""));
    const bool negative = in.accept_sign();
    in.skip_spaces();
    if (!in.at_digit()) in.fail("no number");
    std::int64_t count = 0; // below zero, where there is one more
    const auto append = [&](int digit) {
        if (count < (std::numeric_limits<std::int64_t>::min() + digit) / 10) in.fail("an amount beyond 64 bits");
        count = count * 10 - digit;
    };
    while (in.at_digit()) append(in.next_digit());
    int places = 0;
    if (in.accept(".")) {
        if (!in.at_digit()) in.fail("no digit behind the decimal point");
        for (; in.at_digit(); ++places) {
            if (places == C::minor_digits) in.fail("a part of a minor unit");
            append(in.next_digit());
        }
    }
    for (; places < C::minor_digits; ++places) append(0);
    in.skip_spaces();
    if (!in.accept(C::code)) in.fail("no " + std::string(C::code));
    in.expect_end();
    if (!negative && count == std::numeric_limits<std::int64_t>::min()) in.fail("an amount beyond 64 bits");
    return {negative ? count : -count};
}

template <class Quantity>
struct amount_currency {
    using type = void;
};
template <currency C>
struct amount_currency<amount<C>> {
    using type = C;
};

/// Money, price, wage or amount, of whichever currency `Quantity` is.
template <class Quantity>
[[nodiscard]] Quantity read_monetary(std::string_view text, std::string_view field) {
    using counted = typename amount_currency<Quantity>::type;
    using C = currency_of<Quantity>;
    if constexpr (currency<counted>)
        return read_amount<counted>(text, field);
    else if constexpr (any_money<Quantity>)
        return Quantity::from_value(read_rate<C>(text, field, such_as<C>("money", ""), {}));
    else if constexpr (any_price<Quantity>)
        return Quantity::from_value(read_rate<C>(text, field, such_as<C>("a price", "/lb or /kg"), mass_units));
    else {
        static_assert(any_wage<Quantity>, "from_text knows no text form for this type; see text/from_text.hpp");
        return Quantity::from_value(read_rate<C>(text, field, such_as<C>("a wage", "/h"), duration_units));
    }
}

} // namespace detail

template <class Quantity>
Quantity from_text(std::string_view text, std::string_view field) {
    using namespace detail;
    if constexpr (std::same_as<Quantity, mass>)
        return mass::from_value(read_compound(text, field, "a mass such as 5.6 kg, 340 g or 12 lb 6 oz", mass_units));
    else if constexpr (std::same_as<Quantity, length>)
        return length::from_value(
            read_compound(text, field, "a length such as 32 mm, 41.5 cm, 1 1/4 in or ¾ in", length_units));
    else if constexpr (std::same_as<Quantity, duration>)
        return duration::from_value(read_compound(text, field, "a time such as 20 min or 1 h 20 min", duration_units));
    else if constexpr (std::same_as<Quantity, density>)
        return density::from_value(
            read_compound(text, field, "a density such as 1060 kg/m3 or 1.06 g/cm3", density_units));
    else if constexpr (std::same_as<Quantity, fraction>)
        return read_fraction(text, field);
    else
        return read_monetary<Quantity>(text, field);
}

} // namespace tranche
