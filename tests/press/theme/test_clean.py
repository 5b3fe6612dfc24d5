"""What authors send is kept as words and made harmless."""

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.press.cells import write_cell
from guidebuild.press.theme.clean import clean_html

HOSTILE = [
    "<script>alert(1)</script>",
    "<scr<script>ipt>alert(1)</script>",
    '<p onclick="alert(1)">x</p>',
    '<a href="javascript:alert(1)">x</a>',
    '<a href="JaVa\tScript:alert(1)">x</a>',
    '<a href="&#106;avascript:alert(1)">x</a>',
    '<a href="data:text/html,<script>alert(1)</script>">x</a>',
    '<a href="vbscript:x">x</a>',
    '<a href="file:///etc/passwd">x</a>',
    '<img src=x onerror="alert(1)">',
    '<svg onload="alert(1)"><script>alert(1)</script></svg>',
    "<svg><style><img src=x onerror=alert(1)></style></svg>",
    "<math><mtext><table><mglyph><style><!--</style><img title='--&gt;&lt;img src=1 onerror=alert(1)&gt;'>",
    '<style>@import "http://example.org/x.css"; body{background:url(file:///etc/passwd)}</style>',
    '<p style="background:url(http://example.org/track)">x</p>',
    '<link rel="stylesheet" href="http://example.org/x.css">',
    '<iframe src="http://example.org"></iframe><object data="x"></object><embed src="x">',
    '<base href="http://example.org/"><meta http-equiv="refresh" content="0;url=http://example.org">',
    '<form action="http://example.org"><input name="x"><button formaction="javascript:alert(1)">x</button></form>',
    "<!--[if IE]><script>alert(1)</script><![endif]-->",
    '<video src="http://example.org/x" poster="x"></video><audio autoplay src="x"></audio>',
    "<noscript><p title='</noscript><img src=x onerror=alert(1)>'>",
]
_TAGS = {
    "script",
    "style",
    "svg",
    "math",
    "img",
    "iframe",
    "object",
    "embed",
    "link",
    "meta",
    "base",
    "form",
    "input",
    "button",
    "video",
    "audio",
    "noscript",
}


def assert_harmless(html: str) -> None:
    soup = BeautifulSoup(html, "html5lib")
    for tag in soup.body.find_all(True) if soup.body else ():
        assert tag.name not in _TAGS
        for name, value in tag.attrs.items():
            assert not name.startswith("on")
            assert name not in ("style", "src", "srcset", "formaction", "xlink:href")
            if name == "href":
                scheme = str(value).split(":", 1)[0].strip().lower()
                assert ":" not in str(value) or scheme in ("http", "https", "mailto", "tel")


@pytest.mark.parametrize("html", HOSTILE)
def test_nothing_that_runs_or_fetches_gets_through(html: str) -> None:
    assert_harmless(clean_html(f"<p>before</p>{html}<p>after</p>"))
    assert "before" in clean_html(f"<p>before</p>{html}")


@pytest.mark.filterwarnings("ignore::bs4.MarkupResemblesLocatorWarning")
@given(st.text(alphabet=st.sampled_from("<>/=\"' \tabonsrcipt:jvl&#;-!"), max_size=60) | st.text(max_size=60))
def test_no_text_becomes_harmful(text: str) -> None:
    assert_harmless(clean_html(text))


def test_ordinary_prose_stays() -> None:
    words = '<h3 lang="la">Elasmucha grisea</h3><p>6–9&nbsp;mm, see <a href="https://example.org/a?b=1&amp;c=2">this</a>.</p>'
    prose = words + '<table><tbody><tr><td colspan="2">x</td></tr></tbody></table>'
    assert clean_html(prose).replace("\u00a0", "&nbsp;") == prose


@pytest.mark.parametrize(
    "text", ["=1+1", "+A1", "-A1", "@SUM(1)", "\t=1", "\r=1", "  =1", '=HYPERLINK("http://example.org")', "＝1", "-1+2", "+44 20 x"]
)
def test_cells_that_could_be_formulas_become_text(text: str) -> None:
    assert write_cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["-0.123", "+4", "-1,5", "1e-5", "Parent Bug", "6–9 mm", "", "a=b"])
def test_numbers_and_words_stay_as_they_are(text: str) -> None:
    assert write_cell(text) == text
