"""The words that a job's library files say what a board is with."""

from parametric.stock.materials import GoodFaces, Grain


def test_words_of_library_files_are_understood() -> None:
    """They stand in everybody's files, as the published schema and the shipped libraries have
    them: another spelling would refuse every one of these files.
    """
    faces = {word: GoodFaces(word) for word in ("none", "one", "both")}
    assert list(faces.values()) == [GoodFaces.NONE, GoodFaces.ONE, GoodFaces.BOTH]
    assert list(faces.values()) == list(GoodFaces)
    grains = [Grain("lengthwise"), Grain("none")]
    assert grains == [Grain.LENGTHWISE, Grain.NONE]
    assert grains == list(Grain)
