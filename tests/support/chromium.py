# SPDX-License-Identifier: GPL-3.0-or-later
"""Starts Debian's Chromium under its driver, for the tests that need a real browser.

Its driver is spoken to by number, since a bare machine has no name for itself. Where no browser can be
started the test is skipped, and says why."""

import sys

from selenium import webdriver
from selenium.common.exceptions import WebDriverException
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common import utils

SKIPPED = 77
LOOPBACK = "127.0.0.1"


class LoopbackService(Service):
    @property
    def service_url(self):
        return f"http://{LOOPBACK}:{self.port}"

    def is_connectable(self):
        return utils.is_connectable(self.port, LOOPBACK)


def started(options):
    options.add_argument("--remote-debugging-pipe")  # no name to look up, no port to open
    try:
        return webdriver.Chrome(service=LoopbackService("/usr/bin/chromedriver"), options=options)
    except WebDriverException as error:
        print(f"SKIPPED: no browser can be started here: {error}", file=sys.stderr, flush=True)
        sys.exit(SKIPPED)
