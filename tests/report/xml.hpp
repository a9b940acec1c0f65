// Markup read back by a parser that is not ours.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <map>
#include <string>
#include <vector>

struct xml_element {
    std::string name, text; ///< text directly inside
    std::map<std::string, std::string> attributes;

    /// The attribute, which must be there, as a number; trailing units are not looked at.
    [[nodiscard]] double number(const std::string& attribute) const { return std::stod(attributes.at(attribute)); }
    [[nodiscard]] std::string kind() const {
        const auto found = attributes.find("class");
        return found == attributes.end() ? "" : found->second;
    }
};

/// All elements in document order. Throws what the parser throws, and std::runtime_error where a tag closes another one.
std::vector<xml_element> parse_xml(const std::string& text);

/// The elements of one class.
std::vector<xml_element> of_kind(const std::vector<xml_element>& elements, const std::string& kind);

/// Addresses that a picture or page would fetch: what stands in href, src, url() and @import, without those that stay
/// inside the document (#...).
std::vector<std::string> fetched(const std::string& text);
