"""How the modules of `calc` come into a process: changed, or watched."""

import sys
from importlib.machinery import PathFinder, SourceFileLoader
from pathlib import Path
from typing import ClassVar

ROOT = Path(__file__).resolve().parents[2]


class Loader(SourceFileLoader):
    """Compiles a module itself, so that its code can be another, and is known."""

    trees: ClassVar = {}  # path from the root → changed syntax tree
    loaded: ClassVar = {}  # path from the root → the module's code
    watch = None

    def get_code(self, fullname):
        name = Path(self.path).relative_to(ROOT).as_posix()
        source = self.trees.get(name) or Path(self.path).read_text(encoding="utf-8")
        code = compile(source, self.path, "exec", dont_inherit=True)
        self.loaded[name] = code
        if self.watch:
            self.watch.add(code)
        return code

    def exec_module(self, module):
        if not self.watch:
            return super().exec_module(module)
        with self.watch.importing():
            return super().exec_module(module)


class Finder:
    """Gives the loader to every module of `calc`."""

    @staticmethod
    def find_spec(fullname, path=None, target=None):
        if fullname.split(".")[0] != "calc":
            return None
        spec = PathFinder.find_spec(fullname, path)
        if spec and isinstance(spec.loader, SourceFileLoader):
            spec.loader = Loader(spec.loader.name, spec.loader.path)
        return spec


def install(trees=None, watch=None):
    """Load what is imported of `calc` from now on through `Loader`."""
    assert "calc" not in sys.modules
    Loader.trees = trees or {}
    Loader.watch = watch
    sys.meta_path.insert(0, Finder)
