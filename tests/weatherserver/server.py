"""A weather service on loopback: invented data in the documented format of Locationforecast 2.0.

It answers what it was told to answer, and remembers how it was asked.
"""

import gzip
import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from email.utils import format_datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, urlsplit


def document(
    issued_at: datetime, hourly: int = 48, six_hourly: int = 20, **instant: float
) -> dict[str, Any]:
    """An invented forecast: ``hourly`` steps of one hour, then six-hourly ones, then the post
    behind the last fence, which has no period of its own."""
    details = {
        "air_temperature": 14.0,
        "wind_speed": 4.0,
        "wind_speed_of_gust": 7.5,
        "cloud_area_fraction": 50.0,
        "relative_humidity": 60.0,
        **instant,
    }
    start = issued_at.replace(minute=0, second=0, microsecond=0)
    series: list[dict[str, Any]] = []
    for index in range(hourly + six_hourly + 1):
        beyond = max(0, index - hourly)
        at = start + timedelta(hours=min(index, hourly) + 6 * beyond)
        data: dict[str, Any] = {"instant": {"details": dict(details)}}
        if index < hourly:
            data["next_1_hours"] = {
                "summary": {"symbol_code": "cloudy"},
                "details": {"precipitation_amount": 0.1, "probability_of_precipitation": 12.0},
            }
        if hourly <= index < hourly + six_hourly:
            data["next_6_hours"] = {
                "summary": {"symbol_code": "rain"},
                "details": {"precipitation_amount": 3.0, "probability_of_precipitation": 70.0},
            }
        series.append({"time": f"{at:%Y-%m-%dT%H:%M:%SZ}", "data": data})
    units = {
        "air_temperature": "celsius",
        "wind_speed": "m/s",
        "wind_speed_of_gust": "m/s",
        "precipitation_amount": "mm",
        "probability_of_precipitation": "%",
        "cloud_area_fraction": "%",
        "relative_humidity": "%",
    }
    return {
        "type": "Feature",
        "geometry": {"type": "Point", "coordinates": [10.0, 60.0, 100]},
        "properties": {
            "meta": {"updated_at": f"{issued_at:%Y-%m-%dT%H:%M:%SZ}", "units": units},
            "timeseries": series,
        },
    }


@dataclass
class Answer:
    """What the server says next."""

    status: int = 200
    body: bytes = b""
    headers: dict[str, str] = field(default_factory=dict)
    gzipped: bool = True
    hangs_s: float = 0.0

    @staticmethod
    def of(
        forecast: dict[str, Any], expires: datetime, modified: datetime, status: int = 200
    ) -> "Answer":
        """A forecast with the two headers that caching needs."""
        return Answer(
            status,
            json.dumps(forecast).encode(),
            {
                "Expires": format_datetime(expires, usegmt=True),
                "Last-Modified": format_datetime(modified, usegmt=True),
            },
        )


@dataclass
class Asked:
    """How it was asked."""

    query: dict[str, str]
    headers: dict[str, str]


class WeatherServer:
    """Answers with ``answer``; 304 by itself where the client has what is there."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.answer = Answer(404)
        self.asked: list[Asked] = []

    def respond(self, handler: BaseHTTPRequestHandler) -> None:
        """Answer one request."""
        query = {k: v[0] for k, v in parse_qs(urlsplit(handler.path).query).items()}
        headers = {name.lower(): value for name, value in handler.headers.items()}
        self.asked.append(Asked(query, headers))
        answer = self.answer
        time.sleep(answer.hangs_s)
        status, body = answer.status, answer.body
        since = headers.get("if-modified-since")
        if since is not None and since == answer.headers.get("Last-Modified"):
            status, body = 304, b""
        zipped = answer.gzipped and bool(body) and "gzip" in headers.get("accept-encoding", "")
        if zipped:
            body = gzip.compress(body)
        handler.send_response(status)
        for name, value in answer.headers.items():
            handler.send_header(name, value)
        if zipped:
            handler.send_header("Content-Encoding", "gzip")
        handler.send_header("Content-Length", str(len(body)))
        handler.end_headers()
        handler.wfile.write(body)


@contextmanager
def running() -> Iterator[WeatherServer]:
    """A server on a free loopback port, shut down at the end."""
    holder: list[WeatherServer] = []

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            holder[0].respond(self)

        def log_message(self, *args: object) -> None:
            pass

    httpd = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    holder.append(WeatherServer(f"http://127.0.0.1:{httpd.server_port}/complete"))
    thread = threading.Thread(target=httpd.serve_forever, kwargs={"poll_interval": 0.02})
    thread.start()
    try:
        yield holder[0]
    finally:
        httpd.shutdown()
        thread.join()
        httpd.server_close()
