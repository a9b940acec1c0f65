// What goes through the keys of a section: to read them, to write them, or to know which there are.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/sheet/detail/document/exact_text.hpp>
#include <tranche/sheet/detail/document/sheet_document.hpp>
#include <tranche/units/detail/when_called.hpp>

namespace tranche::detail {

/// Which of a sheet's keys a field of the library stands for.
using fields_to_keys = std::vector<std::pair<std::string_view, std::string>>;

template <class T>
using choices = std::vector<std::pair<std::string_view, T>>;

[[noreturn]] TRANCHE_COLD inline void refuse_entry(const sheet_entry& entry, const sentence& expected) {
    throw invalid_input(entry.place, entry.shown(), expected);
}

/// Money of which there cannot be less than nothing.
template <class Monetary>
void require_no_debt(const sheet_entry& entry, const Monetary& value) {
    if (value < Monetary{}) refuse_entry(entry, "a price of zero or more");
}

template <class Whole>
[[nodiscard]] TRANCHE_COLD std::optional<Whole> whole_number_of(std::string_view text) {
    Whole number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (text.empty() || error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return number;
}
/// In "3/4, 1, 1 1/4 in" all are inches: the unit of the last item for one that has none, else nothing.
[[nodiscard]] TRANCHE_COLD inline std::string unit_behind(const sheet_entry& entry, const std::string& item) {
    const auto unit_of = [](std::string_view text) {
        const auto begins = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '"'; };
        const auto letter = static_cast<std::size_t>(std::find_if(text.begin(), text.end(), begins) - text.begin());
        return text.substr(std::min({letter, text.find("\xE2\x80"), text.size()})); // the mark of inches begins so
    };
    const std::string_view unit = unit_of(entry.items.back());
    return unit.empty() || !unit_of(item).empty() ? "" : ' ' + std::string(unit);
}
class field_visitor;

/// What an entry says, or one item of it.
template <class T>
[[nodiscard]] T value_of(const field_visitor& in, const sheet_entry& entry, const std::string& text);

/// A section describes itself to it key by key (`cutting_keys.hpp`), once for all who want to know: what a key says is put into
/// the sheet by `reading`, and `writing` gives what it should say: nothing where that may be left out.
class field_visitor {
public:
    using reading = std::function<void(const sheet_entry&)>;
    using writing = std::function<std::vector<std::string>()>;

    field_visitor() = default;
    field_visitor(const field_visitor&) = delete;
    field_visitor& operator=(const field_visitor&) = delete;
    virtual ~field_visitor() = default;

    /// `required`, unless it is empty, says what is expected where the key is missing.
    virtual void field(std::string_view key, field_form form, const std::string& required, const reading& read,
                       const writing& write) = 0;
    /// Runs a check where something was read. Its errors are put into the words of the sheet.
    virtual void check(const fields_to_keys&, const std::function<void()>&) {}
    /// Whether the section that is read has a key.
    [[nodiscard]] virtual bool has(std::string_view) const { return false; }
    [[nodiscard]] virtual sheet_units units() const { return sheet_units::us; }
    /// Throws where prices mean nothing, as their currency is not known.
    virtual void require_currency(const sheet_entry&) const {}

    template <class T>
    void required_value(std::string_view key, T& into, const std::string& expected) {
        field(
            key, field_form::text, expected, [&](const sheet_entry& e) { into = value_of<T>(*this, e, e.text); },
            [&]() -> std::vector<std::string> { return {exact_text(into, units())}; });
    }
    /// Left out where it is `otherwise`.
    template <class T>
    void value(std::string_view key, T& into, const T& otherwise = T{}) {
        field(
            key, field_form::text, "", [&](const sheet_entry& e) { into = value_of<T>(*this, e, e.text); },
            [&]() -> std::vector<std::string> {
                if (into == otherwise) return {};
                return {exact_text(into, units())};
            });
    }
    template <class T>
    void value(std::string_view key, std::optional<T>& into) {
        field(
            key, field_form::text, "", [&](const sheet_entry& e) { into = value_of<T>(*this, e, e.text); },
            [&]() -> std::vector<std::string> {
                if (!into) return {};
                return {exact_text(*into, units())};
            });
    }
    /// The same of a price, a wage or money, zero or more.
    template <class T>
    void price(std::string_view key, T& into) {
        field(
            key, field_form::text, "",
            [&](const sheet_entry& e) { require_no_debt(e, into = value_of<T>(*this, e, e.text)); },
            [&]() -> std::vector<std::string> {
                if (into == T{}) return {};
                return {exact_text(into, units())};
            });
    }
    template <class T>
    void price(std::string_view key, std::optional<T>& into, const std::string& required = "") {
        field(
            key, field_form::text, required,
            [&](const sheet_entry& e) { require_no_debt(e, *(into = value_of<T>(*this, e, e.text))); },
            [&]() -> std::vector<std::string> {
                if (!into) return {};
                return {exact_text(*into, units())};
            });
    }
    template <class T>
    void values(std::string_view key, std::vector<T>& list) {
        field(
            key, field_form::list, "",
            [&](const sheet_entry& e) {
                list.clear();
                for (const std::string& item : e.items)
                    list.push_back(value_of<T>(*this, e, item + unit_behind(e, item)));
            },
            [&] {
                std::vector<std::string> items;
                for (const T& item : list) items.push_back(exact_text(item, units()));
                return items;
            });
    }
    /// Words of the writer's own.
    template <class = when_called>
    TRANCHE_COLD void words(std::string_view key, std::string& text) {
        field(
            key, field_form::text, "", [&](const sheet_entry& e) { text = e.text; },
            [&]() -> std::vector<std::string> {
                if (text.empty()) return {};
                return {text};
            });
    }
    template <class = when_called>
    TRANCHE_COLD void names(std::string_view key, std::vector<std::string>& list) {
        field(
            key, field_form::list, "", [&](const sheet_entry& e) { list = e.items; }, [&] { return list; });
    }

    /// One of a list of words. Left out where it is `otherwise`.
    template <class T>
    void choice(std::string_view key, T& into, const choices<T>& known_words, std::optional<T> otherwise) {
        field(
            key, field_form::text, "",
            [&](const sheet_entry& e) {
                const std::string plain = plain_key(e.text);
                std::string known;
                for (const auto& [word, meaning] : known_words) {
                    if (plain == plain_key(word)) {
                        into = meaning;
                        return;
                    }
                    known += (known.empty() ? "" : ", ") + std::string(word);
                }
                refuse_entry(e, "one of " + known);
            },
            [&]() -> std::vector<std::string> {
                if (otherwise == into) return {};
                for (const auto& [word, meaning] : known_words)
                    if (meaning == into) return {std::string(word)};
                return {"?"}; // is refused
            });
    }
    template <class = when_called>
    TRANCHE_COLD void yes_or_no(std::string_view key, bool& into, std::optional<bool> otherwise, bool on_off = false) {
        field(
            key, field_form::yes_or_no, "",
            [&into, on_off](const sheet_entry& e) {
                const std::string plain = plain_key(e.text);
                for (const std::string_view yes : {"yes", "on", "true"})
                    if (plain == yes) return void(into = true);
                for (const std::string_view no : {"no", "off", "false"})
                    if (plain == no) return void(into = false);
                refuse_entry(e, on_off ? "one of on, off" : "one of yes, no");
            },
            [&into, otherwise, on_off]() -> std::vector<std::string> {
                if (otherwise == into) return {};
                return {on_off ? (into ? "on" : "off") : (into ? "yes" : "no")};
            });
    }

    template <class Whole>
    void whole_number(std::string_view key, std::optional<Whole>& into, Whole least, Whole most) {
        field(
            key, field_form::whole_number, "",
            [&into, least, most](const sheet_entry& e) {
                into = whole_number_of<Whole>(e.text);
                if (!into || *into < least || *into > most)
                    refuse_entry(e, "a whole number, " + std::to_string(least) + " to " + std::to_string(most));
            },
            [&into]() -> std::vector<std::string> {
                if (!into) return {};
                return {std::to_string(*into)};
            });
    }
};

template <class T>
T value_of(const field_visitor& in, const sheet_entry& entry, const std::string& text) {
    if constexpr (std::is_same_v<T, std::chrono::year_month_day>) {
        return date_from_text(text, entry.place);
    } else if constexpr (any_money<T> || any_price<T> || any_wage<T>) {
        in.require_currency(entry);
        const T value = from_text<T>(text, entry.place);
        if (!(std::abs(value.value()) < 1e7))
            refuse_entry(entry, "less than 10 million of the currency, or that a kilogram");
        return value;
    } else {
        return from_text<T>(text, entry.place);
    }
}

} // namespace tranche::detail
