// Meshes written as files, so that tests can read them back.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <tranche/loin/mesh/triangle_mesh.hpp>

#include <array>
#include <bit>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>

namespace tranche_test {

/// The shortest text that reads back as the same number.
inline std::string digits(double value) {
    std::array<char, 32> text{};
    return {text.data(), std::to_chars(text.data(), text.data() + text.size(), value).ptr};
}
inline std::string three(tranche::mesh_point p) { return digits(p.x) + ' ' + digits(p.y) + ' ' + digits(p.z); }

/// Appends a number's bytes, the lowest first.
inline void append(std::string& bytes, std::uint64_t number, int size) {
    for (int i = 0; i < size; ++i) bytes += static_cast<char>((number >> (8 * i)) & 0xFFU);
}
inline void append(std::string& bytes, float number) { append(bytes, std::bit_cast<std::uint32_t>(number), 4); }
inline void append(std::string& bytes, double number) { append(bytes, std::bit_cast<std::uint64_t>(number), 8); }

inline std::string obj_file(const tranche::triangle_mesh& mesh) {
    std::string file = "# a mesh\no body\n";
    for (const auto& p : mesh.vertices) file += "v " + three(p) + '\n';
    for (const auto& t : mesh.triangles)
        file +=
            "f " + std::to_string(t[0] + 1) + ' ' + std::to_string(t[1] + 1) + ' ' + std::to_string(t[2] + 1) + '\n';
    return file;
}

inline std::string ply_header(const tranche::triangle_mesh& mesh, const std::string& format, const std::string& type) {
    std::string file =
        "ply\nformat " + format + " 1.0\ncomment a mesh\nelement vertex " + std::to_string(mesh.vertices.size()) + '\n';
    for (const char* axis : {"x", "y", "z"}) file += "property " + type + ' ' + axis + '\n';
    return file + "element face " + std::to_string(mesh.triangles.size()) +
           "\nproperty list uchar int vertex_indices\nend_header\n";
}
inline std::string ascii_ply_file(const tranche::triangle_mesh& mesh) {
    std::string file = ply_header(mesh, "ascii", "double");
    for (const auto& p : mesh.vertices) file += three(p) + '\n';
    for (const auto& t : mesh.triangles)
        file += "3 " + std::to_string(t[0]) + ' ' + std::to_string(t[1]) + ' ' + std::to_string(t[2]) + '\n';
    return file;
}
inline std::string binary_ply_file(const tranche::triangle_mesh& mesh) {
    std::string file = ply_header(mesh, "binary_little_endian", "double");
    for (const auto& p : mesh.vertices)
        for (const double coordinate : {p.x, p.y, p.z}) append(file, coordinate);
    for (const auto& t : mesh.triangles) {
        append(file, 3, 1);
        for (const std::uint32_t corner : t) append(file, corner, 4);
    }
    return file;
}

inline std::string text_stl_file(const tranche::triangle_mesh& mesh) {
    std::string file = "solid body\n";
    for (const auto& t : mesh.triangles) {
        file += "  facet normal 0 0 0\n    outer loop\n";
        for (const std::uint32_t corner : t) file += "      vertex " + three(mesh.vertices[corner]) + '\n';
        file += "    endloop\n  endfacet\n";
    }
    return file + "endsolid body\n";
}
/// Coordinates are rounded to 32 bits.
inline std::string binary_stl_file(const tranche::triangle_mesh& mesh, std::string header = "a mesh") {
    header.resize(80, ' ');
    append(header, mesh.triangles.size(), 4);
    for (const auto& t : mesh.triangles) {
        header.append(12, '\0');
        for (const std::uint32_t corner : t) {
            const auto& p = mesh.vertices[corner];
            for (const double coordinate : {p.x, p.y, p.z}) append(header, static_cast<float>(coordinate));
        }
        header.append(2, '\0');
    }
    return header;
}

/// Calls a reader on the bytes of a file.
template <class Reader>
tranche::triangle_mesh read(Reader reader, const std::string& file, tranche::length unit = tranche::metre) {
    std::istringstream in(file, std::ios::binary);
    return reader(in, unit);
}

} // namespace tranche_test
