#!/usr/bin/env python3
"""The man page and the shell's completion name exactly the verbs, options and values that --help tells.
   tests/command/pages_test.py PATH/TO/haftwright [unittest arguments]
"""
import os
import pathlib
import re
import subprocess
import sys
import unittest

PACKAGING = pathlib.Path(__file__).resolve().parents[2] / "packaging"
PROGRAM = None


def help_of(*verb):
    return subprocess.run([PROGRAM, *verb, "--help"], check=True, capture_output=True, text=True).stdout


def section(text, title):
    """The lines below a title of CLI11's help, up to the next empty line."""
    found = re.search(rf"^{title}:\n(.*?)(?:\n\n|\Z)", text, re.M | re.S)
    return found.group(1) if found else ""


def subcommands(*verb):
    return re.findall(r"^  (\S+)", section(help_of(*verb), "Subcommands"), re.M)


def verbs():
    """The verbs, and those that some have of their own: "bin", "bin list"."""
    return [" ".join(each) for verb in subcommands() for each in [(verb,), *((verb, own) for own in subcommands(verb))]]


def options(verb=""):
    """Each option's names, with the values it may take or none."""
    lines = re.findall(r"^  (-\S+)(?: [A-Z]+(?::\{(\S+?)\})?)?", section(help_of(*verb.split()), "Options"), re.M)
    return [(tuple(names.split(",")), values.split(",") if values else []) for names, values in lines]


def names(verb=""):
    return {name for each, _ in options(verb) for name in each}


def plain(roff):
    return roff.replace("\\-", "-")


class ManPage(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        page = plain((PACKAGING / "haftwright.1").read_text())
        cls.sections = dict(re.findall(r"^\.SH (.*?)\n(.*?)(?=^\.SH |\Z)", page, re.M | re.S))
        cls.verbs = dict(re.findall(r"^\.SS (.*?)\n(.*?)(?=^\.SS |\Z)", cls.sections["VERBS"], re.M | re.S))

    def tagged(self, text):
        """The option names in the lines that follow .TP."""
        return {name for line in re.findall(r"^\.TP\n(.*)", text, re.M) for name in re.findall(r"(?<![\w-])--?\w[\w-]*", line)}

    def test_verbs(self):
        self.assertGreater(len(verbs()), 5)
        self.assertEqual(set(self.verbs), set(verbs()))

    def test_options(self):
        self.assertEqual(self.tagged(self.sections["OPTIONS"]), names())
        for verb, text in self.verbs.items():
            with self.subTest(verb):
                self.assertEqual(self.tagged(text), names(verb) - {"-h", "--help"})

    def test_values(self):
        for verb, text in self.verbs.items():
            parts = re.findall(r"^\.TP\n(.*)\n((?:(?!\.TP).*\n)*)", text, re.M)
            for (name, *_), values in ((each[::-1], values) for each, values in options(verb)):
                if not values:
                    continue
                with self.subTest(verb + " " + name):
                    body = [body for tag, body in parts if re.search(rf"{name}(?![\w-])", tag)]
                    self.assertEqual(len(body), 1)
                    bold = " ".join(re.findall(r"^\.BR? (.*)$", body[0], re.M))
                    self.assertEqual(set(re.findall(r"[\w-]+", re.sub(r'"[^"]*"', " ", bold))) - {"or"}, set(values))

    def test_it_is_sound_roff(self):
        made = subprocess.run(["groff", "-man", "-Tutf8", "-ww", str(PACKAGING / "haftwright.1")], capture_output=True,
                              text=True, check=True)
        self.assertEqual(made.stderr, "")


class Completion(unittest.TestCase):
    def offered(self, *words):
        """What the shell offers for the last of the words."""
        script = ('source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _haftwright; '
                  'printf "%s\\n" "${COMPREPLY[@]}"')
        made = subprocess.run(["bash", "-c", script, "bash", str(PACKAGING / "haftwright.bash"), "haftwright", *words],
                              capture_output=True, text=True, check=True, cwd=PACKAGING.parent / "projects")
        self.assertEqual(made.stderr, "")
        return made.stdout.split()

    def test_verbs(self):
        files = {"pictures", "bin-pictures"} | {path.name for path in (PACKAGING.parent / "projects").glob("*.json")}
        self.assertEqual(set(self.offered("")), set(subcommands()) | files)
        for verb in subcommands():
            if subcommands(verb):
                self.assertEqual(self.offered(verb, ""), subcommands(verb))
        self.assertEqual(self.offered("al"), ["align"])

    def test_options(self):
        self.assertEqual(set(self.offered("-")), names())
        for verb in verbs():
            with self.subTest(verb):
                self.assertEqual(set(self.offered(*verb.split(), "-")), names(verb))

    def test_values(self):
        for verb in verbs():
            for each, values in options(verb):
                if values:
                    with self.subTest(verb + " " + each[-1]):
                        self.assertEqual(self.offered(*verb.split(), each[-1], ""), values)
        listed = re.search(r"WHAT TEXT:\{(\S+?)\}", help_of("list")).group(1).split(",")
        self.assertEqual(self.offered("list", ""), listed)

    def test_options_that_take_a_value_do_not_offer_projects(self):
        for verb in verbs():
            for line in re.findall(r"^  (-\S+) [A-Z]", section(help_of(*verb.split()), "Options"), re.M):
                with self.subTest(verb + " " + line):
                    self.assertNotIn("marking_knife.json", self.offered(*verb.split(), line.split(",")[-1], "m"))

    def test_files(self):
        self.assertEqual(self.offered("check", "pa"), ["paring_knife.json"])
        self.assertEqual(self.offered("picture", "paring_knife.json", "-o", "pi"), ["pictures"])


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    PROGRAM = os.path.abspath(sys.argv.pop(1))
    unittest.main()
