"""Who is let in, and what a browser may do with a page: each guard is tried from outside once.

DNS rebinding, cross-site requests and framing are told apart by the fields `Host` (RFC 9110, 7.2), `Origin` (RFC 6454)
and `Sec-Fetch-Site` (Fetch Metadata Request Headers, W3C); 421 is Misdirected Request (RFC 9110, 15.5.20).
"""

from pathlib import Path

import pytest
from cli.command_line import SOUND
from flask.testing import FlaskClient

from provenance.web.app import create_app
from provenance.web.safety import COOKIE

TOKEN = "a-token-that-nobody-guesses"


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    return create_app(SOUND).test_client()


def guarded() -> FlaskClient:
    return create_app(SOUND, names=("192.168.1.20", "workshop"), token=TOKEN).test_client()


@pytest.mark.parametrize("host", ["localhost", "localhost:8000", "127.0.0.1", "127.0.0.1:1", "LOCALHOST:8000"])
def test_this_machine_is_let_in_by_its_own_names(client: FlaskClient, host: str) -> None:
    assert client.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        *("example.org", "example.org:8000", "localhost.example.org", "127.0.0.1.example.org"),
        *("[::2]", "127.0.0.2", "a@b", "localhost@example.org", "[", ""),
    ],
)
def test_another_name_that_leads_here_is_turned_away(client: FlaskClient, host: str) -> None:
    for address in ("/", "/static/style.css", "/nosuch"):
        answer = client.get(address, headers={"Host": host})

        assert answer.status_code in {400, 421}
        assert b"Rail" not in answer.data


@pytest.mark.parametrize(
    "fields",
    [
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": "http://localhost:9999"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"},
        {"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "cors"},
    ],
)
def test_a_page_of_another_origin_is_given_nothing(client: FlaskClient, fields: dict[str, str]) -> None:
    answer = client.get("/", headers={"Host": "localhost:8000", **fields})

    assert answer.status_code == 403
    assert "Access-Control-Allow-Origin" not in answer.headers


@pytest.mark.parametrize(
    "fields",
    [
        {"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"},
        {"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"},  # a link in a letter
        {"Sec-Fetch-Site": "same-origin", "Sec-Fetch-Mode": "no-cors"},
        {"Origin": "http://localhost:8000"},
    ],
)
def test_going_to_a_page_and_asking_from_one_of_ours_is_let_in(client: FlaskClient, fields: dict[str, str]) -> None:
    assert client.get("/", headers={"Host": "localhost:8000", **fields}).status_code == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH"])
def test_what_is_only_read_takes_nothing_and_who_does_not_say_whence_it_comes_is_turned_away(
    client: FlaskClient, method: str
) -> None:
    assert client.open("/", method=method, headers={"Origin": "http://localhost"}).status_code == 405
    assert client.open("/", method=method).status_code == 403


@pytest.mark.parametrize("address", ["/", "/static/style.css", "/nosuch", "/iiif/nosuch/p1"])
def test_every_answer_says_what_a_browser_may_do_with_it(client: FlaskClient, address: str) -> None:
    with client.get(address) as answer:
        assert "Cache-Control" in answer.headers

    policy = dict(each.strip().split(" ", 1) for each in answer.headers["Content-Security-Policy"].split(";"))
    assert policy["default-src"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == "'self'"
    assert policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert "unsafe" not in answer.headers["Content-Security-Policy"]
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Referrer-Policy"] == "same-origin"  # no origin is sent with a form under no-referrer
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert "Access-Control-Allow-Origin" not in answer.headers


@pytest.mark.parametrize("address", ["/", "/?token=", "/?token=wrong", "/static/style.css", "/iiif/handbook/p1"])
def test_without_the_token_nothing_is_given_to_other_machines(address: str) -> None:
    answer = guarded().get(address, headers={"Host": "192.168.1.20:8000"})

    assert answer.status_code == 403
    assert TOKEN not in answer.text


def test_a_wrong_token_in_a_cookie_opens_nothing() -> None:
    client = guarded()
    client.set_cookie(COOKIE, "wrong", domain="workshop")

    assert client.get("/", headers={"Host": "workshop"}).status_code == 403


def test_whoever_has_the_token_is_let_in_and_it_goes_out_of_the_address() -> None:
    client = guarded()

    first = client.get(f"/sources?token={TOKEN}", base_url="http://workshop:8000")
    then = client.get(first.headers["Location"], base_url="http://workshop:8000")

    assert first.status_code == 302
    assert TOKEN not in first.headers["Location"]
    kept = first.headers["Set-Cookie"]
    assert "HttpOnly" in kept
    assert "SameSite=Strict" in kept
    assert then.status_code == 200


def test_the_token_does_not_open_the_pages_by_another_name() -> None:
    for host in ("localhost", "127.0.0.1", "example.org"):
        assert guarded().get(f"/?token={TOKEN}", headers={"Host": host}).status_code == 421


@pytest.mark.parametrize(
    "address", ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2fapp.py", "/static/%2fetc/passwd"]
)
def test_no_address_leads_to_a_file_that_is_none_of_the_pages(client: FlaskClient, address: str) -> None:
    answer = client.get(address, follow_redirects=True)

    assert answer.status_code == 404
    assert "create_app" not in answer.text


def test_an_archive_is_as_it_was_when_its_pages_were_looked_at() -> None:
    def state() -> dict[Path, bytes]:
        return {file: file.read_bytes() for file in sorted(SOUND.rglob("*.yaml"))}

    before = state()
    for address in ("/", "/nosuch", "/iiif/handbook/p1/info.json"):
        create_app(SOUND).test_client().get(address)

    assert state() == before
