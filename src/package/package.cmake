# SPDX-License-Identifier: GPL-3.0-or-later
# Debian packages, made by `cpack` in a Release build: the program, and the library for developers.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME grainwright)
set(CPACK_PACKAGE_CONTACT "The Grainwright authors <authors@grainwright.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_COMPRESSION_TYPE xz)
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/debian.cmake)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME grainwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SUGGESTS "libgrainwright-dev, xdg-utils, www-browser")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
"sizes and predicts segmented solid rocket motors
 For builders of amateur experimental motors: how many segments, how long, which
 core rods, bare ends and throat give the asked thrust profile inside a casing's
 length and under a pressure ceiling; what the firing will be; what to cut, pour
 and weigh; what the thrust stand's log teaches; whether it leaves the rail.
 .
 It gives geometry, ballistics and masses, and no preparation procedure. Treat
 every untested motor as one that will burst.")

set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libgrainwright-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
# The library is static: whoever links it links these as well.
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
  "libgmp-dev, libmpfr-dev, libnlopt-cxx-dev, libnlopt-dev, libtomlplusplus-dev")
set(CPACK_COMPONENT_LIBRARY_DESCRIPTION
"segmented solid rocket motors as a C++ library (development files)
 Burnback, firing, strength, scatter, flight, search and job files: the library
 that the program grainwright is made from, its headers, and what CMake needs to
 find it.")
include(CPack)
