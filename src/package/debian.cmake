# SPDX-License-Identifier: GPL-3.0-or-later
# Run by cpack on the files of each package before it is closed: what only Debian asks for.
file(GLOB manuals ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/program/usr/share/man/man1/*.1)
foreach(manual IN LISTS manuals)
  execute_process(COMMAND gzip -9nf ${manual} COMMAND_ERROR_IS_FATAL ANY)
endforeach()
foreach(pair program=grainwright library=libgrainwright-dev)
  string(REPLACE "=" ";" pair ${pair})
  list(GET pair 0 component)
  list(GET pair 1 package)
  file(INSTALL ${CMAKE_CURRENT_LIST_DIR}/copyright
    DESTINATION ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/${component}/usr/share/doc/${package})
endforeach()
