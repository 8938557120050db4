"""Where things are put in a topic's file."""

import pytest
from lxml import etree

from checker.result.dialect import V2, V3, Dialect

OLD = """<Markup>
  <Header/>
  <Topic Guid="x">
    <Title>Too full</Title>
    <Their>own</Their>
  </Topic>
  <Viewpoints Guid="v"/>
</Markup>"""
NEW = """<Markup>
  <Topic Guid="x">
    <Title>Too full</Title>
    <Viewpoints>
      <ViewPoint Guid="v"/>
    </Viewpoints>
    <Their>own</Their>
  </Topic>
</Markup>"""


def added(text: str, dialect: Dialect, *paths: str) -> str:
    root = etree.fromstring(text)
    for path in paths:
        dialect.add(root, path, etree.Element(path.rsplit("/", 1)[-1], Guid="n"))
    return etree.tostring(root).decode()


def test_a_comment_of_the_older_version_stands_after_the_topic_and_before_the_viewpoints() -> None:
    assert added(OLD, V2, V2.comments) == OLD.replace(
        '  <Viewpoints Guid="v"/>', '  <Comment Guid="n"/>\n  <Viewpoints Guid="v"/>'
    )


def test_a_second_comment_stands_after_the_first() -> None:
    first = added(OLD, V2, V2.comments)

    assert added(OLD, V2, V2.comments, V2.comments) == first.replace(
        '<Comment Guid="n"/>', '<Comment Guid="n"/>\n  <Comment Guid="n"/>'
    )


def test_a_comment_of_the_newer_version_stands_in_a_list_inside_the_topic_that_is_made_for_it() -> None:
    made = '<Title>Too full</Title>\n    <Comments>\n      <Comment Guid="n"/>\n    </Comments>'

    assert added(NEW, V3, V3.comments) == NEW.replace("<Title>Too full</Title>", made)


def test_an_empty_list_is_filled_and_none_made_beside_it() -> None:
    empty = NEW.replace("<Title>Too full</Title>", "<Title>Too full</Title>\n    <Comments/>")

    assert added(empty, V3, V3.comments) == added(NEW, V3, V3.comments)


def test_what_the_schema_does_not_know_stays_behind_what_it_follows() -> None:
    related = added(OLD, V2, V2.related)

    assert related == OLD.replace("<Their>own</Their>", '<Their>own</Their>\n    <RelatedTopic Guid="n"/>')
    assert added(NEW, V3, V3.views).index("<Their>") > added(NEW, V3, V3.views).index('<ViewPoint Guid="n"/>')


@pytest.mark.parametrize("dialect", [V2, V3])
def test_a_file_without_spaces_gets_none_and_its_texts_stay(dialect: Dialect) -> None:
    text = '<Markup><Topic Guid="x"><Title>Too full</Title>loose</Topic>end</Markup>'

    after = added(text, dialect, dialect.comments, dialect.related)

    assert "\n" not in after
    assert "loose" in after
    assert "end" in after
    assert etree.fromstring(after).find(dialect.comments) is not None
    assert etree.fromstring(after).find(dialect.related) is not None
