"""Every method that can govern has its words of the shop, and they are such words.

What is held here is the spelling of our own data, so nothing outside the project stands beside it.
"""

import re

from jointcalc.check import all_methods
from jointcalc.result.plain import can_govern, shop_words

NOT_OF_THE_SHOP = re.compile(
    r"\b(EN|AISI|AISC|clause|crippling|utilisation|nominal|resistance|sagging|hogging|EI|GJ|lateral|torsion\w*|"
    r"distortion\w*|membrane|interaction|governs?|governed|eccentric\w*|moment)\b|\d|[%γΩ]",
)


def test_every_method_that_can_govern_has_words_and_no_others_have():
    can = {key for key, one in all_methods().items() if can_govern(one)}
    assert len(can) > 150
    assert can - set(shop_words()) == set(), "give these keys words in tables/shop_words.toml"
    assert set(shop_words()) - can == set(), "these keys are no methods that can govern"


def test_words_of_the_shop_are_short_plain_and_hold_no_number():
    for key, words in shop_words().items():
        assert 4 < len(words) <= 50, (key, words)
        assert words[0].islower(), (key, words)
        assert not words.endswith("."), (key, words)
        assert not NOT_OF_THE_SHOP.search(words), (key, words)


def test_the_words_that_are_refused_are_found_where_they_stand():
    assert NOT_OF_THE_SHOP.search("crippling of the webs")
    assert NOT_OF_THE_SHOP.search("more than 5 mm")
    assert not NOT_OF_THE_SHOP.search("sides crumple under a load")
