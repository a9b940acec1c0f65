// Where the profile of a loin comes from: kept, or tabulated whenever it is asked for, which takes no room.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <functional>
#include <memory>
#include <utility>

#include <tranche/loin/loin_model.hpp>
#include <tranche/loin/profile.hpp>

namespace tranche {

/// Gives the profile of a loin, the same each time. A profile of 46 cm at 1 mm takes some 50 KB, a taped loin half of one: an order
/// over thousands of loins keeps models (`loin_source(model, step)`) and tabulates each twice, once to plan it and once to lay
/// its plan out. Copies share what they keep. Safe to call from several threads at once if the function is.
class loin_source {
public:
    loin_source() = default;
    /// Keeps the profile.
    loin_source(profile meat) // NOLINT(google-explicit-constructor): a loin is a source of itself
        : make_([kept = std::make_shared<const profile>(std::move(meat))] { return kept; }) {}
    /// Tabulates the model when it is asked for, as `tabulate(model, step)`, and throws then what that does.
    template <loin_model Model>
    explicit loin_source(Model model, length step = default_step)
        : make_([model = std::move(model), step] { return std::make_shared<const profile>(tabulate(model, step)); }) {}
    /// Calls the function, which gives the same profile each time.
    template <std::invocable Make>
    requires std::same_as<std::invoke_result_t<Make>, profile>
    explicit loin_source(Make make)
        : make_([make = std::move(make)] { return std::make_shared<const profile>(make()); }) {}

    /// Whether there is a loin.
    explicit operator bool() const { return static_cast<bool>(make_); }
    /// The profile, alive as long as what is returned. Throws `invalid_input` where there is none, and what the model does.
    [[nodiscard]] std::shared_ptr<const profile> operator()() const {
        if (!make_) throw invalid_input("loin", "none", "a profile, or a model to tabulate");
        return make_();
    }

private:
    std::function<std::shared_ptr<const profile>()> make_;
};

} // namespace tranche
