// Quantities out of text as a person writes them; strict, and clear about what could not be read and where.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

#include <tranche/text/detail/text_reader.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/currency.hpp>
#include <tranche/units/invalid_input.hpp>
#include <tranche/units/quantity.hpp>
#include <tranche/units/temperature.hpp>

namespace tranche {

/// Reads a `Quantity` from the whole of `text`; `field` names it in errors.
///
/// Numbers: `12`, `12.5`, `3/4`, `1 1/4`, `1-1/4`, `¾`, `1¾`, with a decimal point and no exponent, no thousands mark. Units
/// and codes in any case, units also as words and with a full stop behind: `12 pounds`, `12 Lb.`
/// - `mass`: kg, g, lb, oz, and `12 lb 6 oz`;
/// - `length`: mm, cm, m, in, ft (also `"` and `'`), and `1 ft 4 in`;
/// - `duration`: h, min, s, and `1 h 20 min`;
/// - `density`: `kg/m3`, `g/cm3` (also `³`);
/// - `temperature`: `3 °C`, `38 °F` (also `deg`, or the letter alone);
/// - `fraction`: `30 %` or a plain `0.3`;
/// - `money<C>`, `amount<C>`: `7.90 USD`; `unit_price<C>`: `7.90 USD/lb` (kg, g, lb, oz), `1.74 USD/100 g`; `wage<C>`: `18
///   USD/h`. The code may stand in front, `per` or `a` for the stroke, and `$`, `€`, `£`, `¥`, `₩` or `₹` for the code where
///   that currency uses the sign: `$7.90 a pound` is a price in USD, CAD or MXN, whichever `C` is;
/// - `quantity_range<Q>` of these: `A`, `exactly A`, `A to B`, `A - B`, `at least A`, `A or more`, `at most B`, `up to B`, `B or
///   less`. A lower limit without a unit has that of the upper one: `1 to 1 1/2 in`.
///
/// The first number may have a sign. Throws `invalid_input` with the text, what could not be read, at which character
/// (counted from 1) and what was expected. O(length of the text). Quantities are held in SI units, temperatures in °C;
/// which values make sense is for the caller to check. Pounds, ounces, feet and inches: NIST Handbook 44, appendix C.
template <class Quantity>
[[nodiscard]] Quantity from_text(std::string_view text, std::string_view field = "quantity");

namespace detail {

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

/// number CODE / unit, or number CODE / number unit, in currency units per SI unit. The code must be `C`'s; it, or a sign
/// of it, may also stand in front.
template <currency C>
[[nodiscard]] double read_rate(std::string_view text, std::string_view field, std::string expected,
                               std::span<const named_unit> per) {
    text_reader in(text, field, std::move(expected));
    const auto [negative, named] = in.accept_money_front(C::code);
    const auto value = in.number(!named);
    if (!value) in.fail("no number");
    in.accept_money_end(C::code, named);
    if (!per.empty()) {
        if (!in.accept("/") && !in.accept_word("per ") && !in.accept_word("a ") && !in.accept_word("an "))
            in.fail("no stroke");
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
    const double value = in.signed_number();
    const bool hundredths = in.accept("%") || in.accept_word("percent") || in.accept_word("per cent");
    in.expect_end();
    return hundredths ? value / 100.0 : value;
}

[[nodiscard]] inline temperature read_temperature(std::string_view text, std::string_view field) {
    text_reader in(text, field, "a temperature such as 3 °C or 38 °F");
    const double degrees = in.signed_number();
    (void)(in.accept("°") || in.accept_word("degrees") || in.accept_word("deg"));
    in.skip_spaces();
    const bool fahrenheit = in.accept_word("fahrenheit") || in.accept_word("f");
    if (!fahrenheit && !in.accept_word("celsius") && !in.accept_word("c")) in.fail("no such unit");
    in.expect_end();
    return fahrenheit ? temperature::from_fahrenheit(degrees) : temperature{degrees};
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
    const auto [negative, named] = in.accept_money_front(C::code);
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
    in.accept_money_end(C::code, named);
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

template <class Quantity>
struct range_bound {
    using type = void;
};
template <class Bound>
struct range_bound<quantity_range<Bound>> {
    using type = Bound;
};

[[nodiscard]] inline std::string_view without_blanks(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Words that make a limit of what stands behind or in front of them.
struct limit_words {
    std::string_view words;
    bool in_front, least, most;
};
inline constexpr std::array limit_forms{
    limit_words{"at least ", true, true, false}, limit_words{"min ", true, true, false},
    limit_words{"from ", true, true, false},     limit_words{" or more", false, true, false},
    limit_words{" and up", false, true, false},  limit_words{"at most ", true, false, true},
    limit_words{"up to ", true, false, true},    limit_words{"max ", true, false, true},
    limit_words{" or less", false, false, true}, limit_words{" or fewer", false, false, true},
    limit_words{"exactly ", true, true, true},
};

/// The lower and the upper limit as they are written, the lower one with the unit of the upper one where it has none of its
/// own; empty where there is no limit.
[[nodiscard]] inline std::pair<std::string, std::string> limit_texts(std::string_view text, std::string_view field,
                                                                     const std::string& expected) {
    text = without_blanks(text);
    const auto behind = [&](std::string_view words) -> std::string_view {
        text_reader in(text, field, expected);
        return in.accept_word(words) ? without_blanks(in.rest()) : std::string_view{};
    };
    const auto in_front = [&](std::string_view words) -> std::string_view {
        if (text.size() <= words.size()) return {};
        text_reader in(text.substr(text.size() - words.size()), field, expected);
        return in.accept_word(words) ? without_blanks(text.substr(0, text.size() - words.size())) : std::string_view{};
    };
    for (const limit_words& form : limit_forms) {
        const std::string_view limit = form.in_front ? behind(form.words) : in_front(form.words);
        const bool both = form.in_front && !form.most && limit.find(" to ") != std::string_view::npos; // from A to B
        if (limit.empty() || both) continue;
        return {form.least ? std::string(limit) : std::string(), form.most ? std::string(limit) : std::string()};
    }
    if (const auto both = behind("from "); !both.empty()) text = both;
    for (const std::string_view between : {" to ", " - ", "–"}) {
        const auto here = [](char a, char b) { return text_reader::small(a) == b; };
        const auto found = std::search(text.begin(), text.end(), between.begin(), between.end(), here);
        const auto at = static_cast<std::size_t>(found - text.begin());
        if (found == text.end() || at == 0) continue;
        std::string least(without_blanks(text.substr(0, at)));
        const std::string_view most = without_blanks(text.substr(at + between.size()));
        text_reader lower(least, field, expected), upper(most, field, expected);
        (void)lower.accept_sign();
        if (lower.number() && (lower.skip_spaces(), lower.done())) {
            (void)upper.accept_sign();
            (void)upper.number();
            const std::string_view unit = upper.rest();
            if (unit.find_first_of("0123456789") != std::string_view::npos) lower.fail("no unit");
            least += ' ' + std::string(unit);
        }
        return {std::move(least), std::string(most)};
    }
    return {std::string(text), std::string(text)};
}

template <class Bound>
[[nodiscard]] quantity_range<Bound> read_range(std::string_view text, std::string_view field) {
    const auto [least, most] = limit_texts(text, field, "limits such as A to B, at least A, at most B or exactly A");
    const auto bound = [&](const std::string& part, Bound otherwise) {
        return part.empty() ? otherwise : from_text<Bound>(part, field);
    };
    if (least.empty() && most.empty()) (void)from_text<Bound>(text, field);
    return {bound(least, Bound{}), bound(most, unlimited<Bound>())};
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
    else if constexpr (std::same_as<Quantity, temperature>)
        return read_temperature(text, field);
    else if constexpr (!std::is_void_v<typename range_bound<Quantity>::type>)
        return read_range<typename range_bound<Quantity>::type>(text, field);
    else
        return read_monetary<Quantity>(text, field);
}

} // namespace tranche
