# `cpack -G DEB` in the build folder: a Debian package of the program, its manual, completions, data
# and notes. The library is for `cmake --install`.
#
# Source: Debian Policy Manual, chapter 5 (control fields), 12.1 (manual pages, compressed), 12.5
# (copyright), and the machine-readable format of the latter, version 1.0.
set(THICKSET_MAINTAINER "The thickset authors <thickset@maintainer.invalid>" CACHE STRING
    "who looks after the package: Name <address>")

# The manual page, compressed without name and time, so that the same source gives the same bytes.
find_program(GZIP gzip)
if(GZIP)
  set(compressed ${PROJECT_BINARY_DIR}/thickset.1.gz)
  add_custom_command(OUTPUT ${compressed}
    COMMAND ${GZIP} -9nc ${manual} > ${compressed}
    DEPENDS ${manual} VERBATIM)
  add_custom_target(thickset_compressed_manual ALL DEPENDS ${compressed})
  install(FILES ${compressed} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1
          COMPONENT debian EXCLUDE_FROM_ALL)
endif()

install(FILES ${PROJECT_BINARY_DIR}/completion.zsh RENAME _thickset
        DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
        COMPONENT debian EXCLUDE_FROM_ALL)

# The licence, its title and holder cut off and its lines indented.
file(READ notes/LICENSE licence)
string(REGEX MATCH "Copyright \\(c\\) ([^\n]*)\n\n(.*)" matched "${licence}")
set(holder ${CMAKE_MATCH_1})
string(STRIP "${CMAKE_MATCH_2}" terms)
if(NOT terms)
  message(FATAL_ERROR "notes/LICENSE: no line `Copyright (c) HOLDER` with the terms below it")
endif()
string(REPLACE "\n\n" "\n.\n" terms "${terms}")
string(REPLACE "\n" "\n " terms "${terms}")
set(copyright ${PROJECT_BINARY_DIR}/copyright)
file(CONFIGURE OUTPUT copyright @ONLY CONTENT
"Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: thickset
Comment: The program has code of Eigen (MPL-2.0) and of the Boost headers
 (BSL-1.0) compiled into it; both are in Debian, with their source, as
 libeigen3-dev and libboost-dev.

Files: *
Copyright: @holder@
License: Expat
 @terms@
")
install(FILES ${copyright} DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/thickset
        COMPONENT debian EXCLUDE_FROM_ALL)

set(CPACK_GENERATOR DEB)
set(CPACK_SOURCE_GENERATOR "")
set(CPACK_PACKAGE_NAME thickset)
set(CPACK_PACKAGE_CONTACT "${THICKSET_MAINTAINER}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS
    OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_COMPONENTS_ALL program debian)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
# Its first line is the description of the project.
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
"thickset works out how hot and how long to hold a thick glass casting, how
fast each stage of its cooling may be, and what to key into the controller.
It checks programs and logs of firings, and tells how to go on after a power
cut. It simulates temperatures and stresses inside the glass; its answers are
estimates.")
include(CPack)
