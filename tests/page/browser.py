"""The system's Chromium, driven without a window; installed where it is missing and can be."""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

NAMES = ("chromium", "chromium-browser")
# The arm in 3D needs WebGL, drawn by the processor here.
FLAGS = (
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--ignore-gpu-blocklist",
    "--disable-dev-shm-usage",
)
PATIENCE = 300_000.0  # ms; drawing in 3D by the processor takes its time on a busy machine, only an endless wait is a fault
INSTALL = "apt-get -qq update && DEBIAN_FRONTEND=noninteractive apt-get -qq -y --no-install-recommends install chromium"


def actual() -> str | None:
    return next(filter(None, map(shutil.which, NAMES)), None)


def chromium() -> str:
    """Path of Chromium. A test that needs it fails where it cannot be had: a page that nobody looked at is not tested."""
    if not actual() and sys.platform == "linux" and os.geteuid() == 0 and shutil.which("apt-get"):
        with open(
            Path(tempfile.gettempdir()) / "leverwright-chromium.lock", "w"
        ) as lock:  # one process at a time
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not actual():
                subprocess.run(["sh", "-c", INSTALL], check=False, stdout=subprocess.DEVNULL)
    return actual() or pytest.fail("the page is tested in Chromium; run: apt-get install chromium")


@contextmanager
def started() -> Iterator[Browser]:
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=chromium(), args=list(FLAGS), timeout=PATIENCE)
        yield browser
        browser.close()


class Seen:
    """A page with all that it complained of and asked for."""

    def __init__(self, browser: Browser, path: Path, width: int = 1280, scripts: bool = True) -> None:
        context = browser.new_context(viewport={"width": width, "height": 900}, java_script_enabled=scripts)
        context.set_default_timeout(PATIENCE)
        self.page: Page = context.new_page()
        self.errors: list[str] = []
        self.requests: list[str] = []
        self.page.on("console", lambda text: self.errors.append(text.text) if text.type == "error" else None)
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.on("dialog", lambda dialog: (self.errors.append(dialog.message), dialog.dismiss()))
        self.page.on(
            "request",
            lambda one: (
                None if one.url.startswith(("data:", path.as_uri())) else self.requests.append(one.url)
            ),
        )
        self.page.goto(path.as_uri())
        if scripts:
            self.page.wait_for_selector("html[data-ready=yes]", state="attached")
