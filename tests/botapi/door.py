"""The HTTP side of the local Bot API: parameters and files in, the API's envelope out."""

import json
from typing import Any, Protocol

import tornado.web

from tests.botapi import methods


class Holding(Protocol):
    token: str
    files: dict[str, bytes]


class Answering(Protocol):
    async def answer(self, door: "Door", token: str, method: str) -> None: ...


class Door(tornado.web.RequestHandler):
    def initialize(self, api: Answering) -> None:
        self.api = api

    async def post(self, token: str, method: str) -> None:
        await self.api.answer(self, token, method)

    def fields(self, method: str) -> dict[str, Any]:
        """The call's parameters; an uploaded file stands under its parameter's name."""
        given: dict[str, Any] = {
            name: self.get_body_argument(name, strip=False) for name in self.request.body_arguments
        }
        files = {
            name: methods.Upload(name=parts[0].filename, content=parts[0].body)
            for name, parts in self.request.files.items()
        }
        if method == "editMessageMedia":
            return {**given, "files": files}
        attached = {
            name: files[value.removeprefix("attach://")]
            for name, value in given.items()
            if value.startswith("attach://")
        }
        return {
            **given,
            **{n: f for n, f in files.items() if n in ("photo", "document")},
            **attached,
        }

    def give(self, result: object) -> None:
        self.set_header("Content-Type", "application/json")
        self.finish(json.dumps({"ok": True, "result": result}))

    def tell(
        self,
        code: int,
        description: str,
        parameters: object = None,
        status: int | None = None,
    ) -> None:
        body = {"ok": False, "error_code": code, "description": description}
        if parameters is not None:
            body["parameters"] = parameters
        self.set_status(status or code)
        self.set_header("Content-Type", "application/json")
        self.finish(json.dumps(body))

    def log_exception(self, typ: Any, value: Any, tb: Any) -> None:
        if not isinstance(value, tornado.web.HTTPError):
            super().log_exception(typ, value, tb)


class Files(tornado.web.RequestHandler):
    """Where the content of a file is had, once getFile has told its path."""

    def initialize(self, api: Holding) -> None:
        self.api = api

    def get(self, token: str, path: str) -> None:
        content = self.api.files.get(path.removeprefix("photos/").removesuffix(".jpg"))
        if token != self.api.token or content is None:
            raise tornado.web.HTTPError(404)
        self.finish(content)
