// SPDX-License-Identifier: BSL-1.0
#include "xml.hpp"

#include <algorithm>
#include <regex>
#include <sstream>
#include <stdexcept>

#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>

#include "support/catch.hpp"

using namespace tranche_test;

namespace {

void collect(const std::string& name, const boost::property_tree::ptree& tree, std::vector<xml_element>& into) {
    xml_element element{name, tree.data(), {}};
    if (const auto attributes = tree.get_child_optional("<xmlattr>"))
        for (const auto& [key, value] : *attributes) element.attributes[key] = value.data();
    into.push_back(element);
    for (const auto& [key, child] : tree)
        if (key != "<xmlattr>") collect(key, child, into);
}

/// The parser of Boost takes any closing tag for the right one.
void check_nesting(const std::string& text) {
    std::vector<std::string> open;
    for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at)) {
        bool quoted = false;
        std::size_t end = at + 1;
        for (; end < text.size() && (quoted || text[end] != '>'); ++end) quoted ^= text[end] == '"';
        const std::string tag = text.substr(at + 1, end - at - 1);
        at = end;
        if (tag.empty() || tag.front() == '!' || tag.front() == '?') continue;
        const std::string name =
            tag.substr(tag.front() == '/' ? 1 : 0, tag.find_first_of(" \n/", 1) - (tag.front() == '/' ? 1 : 0));
        if (tag.front() == '/') {
            if (open.empty() || open.back() != name) throw std::runtime_error("</" + name + "> closes another");
            open.pop_back();
        } else if (tag.back() != '/') {
            open.push_back(name);
        }
    }
    if (!open.empty()) throw std::runtime_error('<' + open.back() + "> is not closed");
}

} // namespace

std::vector<xml_element> parse_xml(const std::string& text) {
    check_nesting(text);
    std::istringstream in(text);
    boost::property_tree::ptree tree;
    boost::property_tree::read_xml(in, tree);
    std::vector<xml_element> elements;
    for (const auto& [name, child] : tree) collect(name, child, elements);
    return elements;
}

std::vector<xml_element> of_kind(const std::vector<xml_element>& elements, const std::string& kind) {
    std::vector<xml_element> found;
    std::copy_if(elements.begin(), elements.end(), std::back_inserter(found),
                 [&](const xml_element& e) { return e.kind() == kind; });
    return found;
}

std::vector<std::string> fetched(const std::string& text) {
    const std::regex address(
        "(?:href|src|srcset|data)\\s*=\\s*[\"']?([^\"'\\s>]*)|url\\(([^)]*)\\)|@import\\s*([^;]*)");
    std::vector<std::string> found;
    for (std::sregex_iterator at(text.begin(), text.end(), address), end; at != end; ++at) {
        const std::string where = (*at)[1].str() + (*at)[2].str() + (*at)[3].str();
        if (where.empty() || where.front() != '#') found.push_back(where);
    }
    return found;
}

TEST_CASE("the parser used here refuses markup that is not well-formed") {
    CHECK(parse_xml("<a><b c=\"1\"/></a>").size() == 2);
    CHECK_THROWS(parse_xml("<a><b></a></b>"));
    CHECK_THROWS(parse_xml("<a><b></a>"));
    CHECK_THROWS(parse_xml("<a b=1></a>"));
    CHECK_THROWS(parse_xml("<a>"));
}

TEST_CASE("the search used here finds addresses outside the document") {
    CHECK(fetched("<rect fill=\"url(#here)\"/>").empty());
    CHECK(fetched("<a href=\"https://x.example/\"/><style>@import x.css;</style>").size() == 2);
    CHECK(fetched("<rect fill=\"url(there.svg#a)\"/><img src='a.png'/>").size() == 2);
}
