# Install rules: headers, CMake package, pkg-config file, licence; all of it independent of the architecture. With
# TRANCHE_COMPILED the static library too, which is not.

include(CMakePackageConfigHelpers)
include(GNUInstallDirs)

set(package_dir ${CMAKE_INSTALL_DATADIR}/cmake/tranche)
set(pkgconfig_dir ${CMAKE_INSTALL_DATADIR}/pkgconfig)

install(TARGETS tranche EXPORT tranche-targets FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(EXPORT tranche-targets NAMESPACE tranche:: DESTINATION ${package_dir})

# A package of its own, so that that of the headers stays independent of the architecture: find_package(tranche-compiled).
set(compiled_dir ${CMAKE_INSTALL_LIBDIR}/cmake/tranche-compiled)
if(TARGET tranche_compiled)
    install(TARGETS tranche_compiled EXPORT tranche-compiled-targets ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
    install(EXPORT tranche-compiled-targets NAMESPACE tranche:: DESTINATION ${compiled_dir})
    file(CONFIGURE OUTPUT ${PROJECT_BINARY_DIR}/tranche-compiled-config.cmake
         CONTENT "include(CMakeFindDependencyMacro)\nfind_dependency(tranche ${PROJECT_VERSION} CONFIG)\n\
include(\"\${CMAKE_CURRENT_LIST_DIR}/tranche-compiled-targets.cmake\")\n"
         @ONLY)
    write_basic_package_version_file(${PROJECT_BINARY_DIR}/tranche-compiled-config-version.cmake
                                     COMPATIBILITY SameMinorVersion)
    install(FILES ${PROJECT_BINARY_DIR}/tranche-compiled-config.cmake
                  ${PROJECT_BINARY_DIR}/tranche-compiled-config-version.cmake DESTINATION ${compiled_dir})
endif()

configure_package_config_file(
    ${PROJECT_SOURCE_DIR}/cmake/tranche-config.cmake.in ${PROJECT_BINARY_DIR}/tranche-config.cmake
    INSTALL_DESTINATION ${package_dir}
    NO_SET_AND_CHECK_MACRO NO_CHECK_REQUIRED_COMPONENTS_MACRO)
# Before 1.0 a minor step may break what used to compile.
write_basic_package_version_file(
    ${PROJECT_BINARY_DIR}/tranche-config-version.cmake
    COMPATIBILITY SameMinorVersion
    ARCH_INDEPENDENT)
install(FILES ${PROJECT_BINARY_DIR}/tranche-config.cmake ${PROJECT_BINARY_DIR}/tranche-config-version.cmake
        DESTINATION ${package_dir})

# Relative to the file itself, so that the installed tree can be moved.
if(IS_ABSOLUTE "${CMAKE_INSTALL_INCLUDEDIR}")
    set(pkgconfig_includedir ${CMAKE_INSTALL_INCLUDEDIR})
else()
    file(RELATIVE_PATH up /${pkgconfig_dir} /)
    string(REGEX REPLACE "/$" "" up "${up}")
    set(pkgconfig_prefix "\${pcfiledir}/${up}")
    set(pkgconfig_includedir "\${prefix}/${CMAKE_INSTALL_INCLUDEDIR}")
endif()
configure_file(${PROJECT_SOURCE_DIR}/cmake/tranche.pc.in ${PROJECT_BINARY_DIR}/tranche.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/tranche.pc DESTINATION ${pkgconfig_dir})

install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DATADIR}/licenses/tranche)
