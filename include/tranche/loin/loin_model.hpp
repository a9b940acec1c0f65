// What a loin model has to offer: how long it is, and its face at a station.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <optional>

#include <tranche/loin/face.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// A loin along an axis from 0 at the rib face to `extent()` at the sirloin face, above zero and finite; `face_at(x)`
/// gives the face for any x in between, with areas that are finite and not negative. Both are called on const objects.
///
/// `prism_loin` is one. A class whose `face_at` returns only an area is not: trim and the second muscle need the tissues.
/// A model may also have a free function `validate(const Model&)` that throws `invalid_input`; `tabulate` calls it first. One
/// that keeps readings as they were written may have a `Model snapped() const` with all of them on the grain of 1/16 um (shares:
/// of a billionth), as those of the library have: then that is what `tabulate` reads, and units do not matter.
template <class Model>
concept loin_model = requires(const Model& model, length at) {
    { model.extent() } -> std::same_as<length>;
    { model.face_at(at) } -> std::same_as<face>;
};

/// Calls the model's own `validate` where there is one. Throws `invalid_input` where that does, and nothing for a model
/// that has none.
template <loin_model Model>
void validate_model(const Model& model) {
    if constexpr (requires { validate(model); }) validate(model);
}

namespace detail {

/// Whether the readings of a model leave open how much of its faces is filled, as those of a tape do. `fill()` is what it
/// assumes, above 0 to 1; `with_fill(f)` is the same model that assumes another: all areas but the tail's are in proportion to
/// the fill, and layers and outlines are those of faces that are filled so. See `calibrate`.
template <class Model>
concept leaves_fill_open = requires(const Model& model, fraction fill) {
    { model.fill() } -> std::same_as<fraction>;
    { model.with_fill(fill) } -> std::same_as<Model>;
};

/// Whether another fill makes such a model anew as a whole, outlines read and all, as one that is cut at a slant: too dear to be
/// asked for face by face.
template <class Model>
concept refilled_as_a_whole = requires {
    requires Model::refilled_as_a_whole;
};

/// Whether a model may know what it weighs, as one that was put on the scale does; see `tabulate`.
template <class Model>
concept knows_mass = requires(const Model& model) {
    { model.known_mass() } -> std::same_as<std::optional<mass>>;
};

/// Whether a model keeps readings that are not on the grain.
template <class Model>
concept can_be_snapped = requires(const Model& model) {
    { model.snapped() } -> std::same_as<Model>;
};

/// The model as tables read it.
template <loin_model Model>
[[nodiscard]] decltype(auto) as_tabulated(const Model& model) {
    if constexpr (can_be_snapped<Model>)
        return model.snapped();
    else
        return (model); // itself, not a copy
}

} // namespace detail
} // namespace tranche
