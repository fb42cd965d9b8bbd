"""The sources that are text: transcripts of two recordings, one of them timed, notes, and a copy of a day book."""

TRANSCRIPT = """\
Recollections of Wilfred Sallowby, driver, Brennow & Carrowsea Light Railway, 1930 to 1939
Recorded at Brennow, 11 April 1974, by Ines Corrowdale the elder. Transcribed 2018.

[00:00:10] Q: You started on the cars in which year?

[00:00:14] A: Thirty. I was cleaner first, then I had the van, then they put me on the cars. I drove every one of
them, one to eleven, and I could tell you which one was coming with my eyes shut.

[00:04:32] Q: What did they look like, when you think of them?

[00:04:40] A: Smart. They were lined out in yellow, a line about so wide, right round below the windows. Old Morvane
would have it touched up every spring whether it wanted it or not. Later on, thirty-seven that would be, they were
painted cream all over, to save money on the lining, and they were never the same.

[00:07:05] Q: Did they have a horn?

[00:07:09] A: No, no horn. We had a whistle that blew off the exhaust. You put your foot on it. You could hear it
over at the quarry.

[00:11:50] Q: And the seats?

[00:11:55] A: I never sat on them, did I. I was in front.
"""

NOTE = """\
# The petrol tank: what we know

Peder Askwold, 3 February 2021

The handbook lists the tank without giving its capacity, and no drawing of it has been found.

Miss Corvick's pocket book, which her niece let me read, has this line copied from the stores ledger of the
railway:

> Tanks, cars 1 to 11, 14 gallons.

She writes that the ledger was lost when the shed burnt in 1941. So the pocket book, her letter of 1962 and this
note all come from the one ledger. They are one witness, not three.

## To do

- Ask the record office whether the annual returns give petrol drawn for each car.
- Measure the straps on the body of No. 11, if they are there.
"""

RECOLLECTION = """\
WEBVTT

NOTE
Albert Fennick, guard, 1931 to 1940. Recorded at Carrowsea, 3 May 1991.
Sound: tape 7, side A (fennick-side-a.wav), kept by the Group and not in this archive.
Transcribed by Ines Corrowdale, 14 October 2019.

1
00:00:08.000 --> 00:00:14.500
<v Interviewer>You were guard on the cars, Mr. Fennick?

2
00:00:15.000 --> 00:00:24.000
<v Albert Fennick>Nine years. The driver had the front to himself and I had everything behind him.

3
00:00:24.500 --> 00:00:29.000
<v Interviewer>How did you tell him to start?

4
00:00:29.500 --> 00:00:41.000
<v Albert Fennick>There was a bell with a cord, in every car, and I gave it two pulls.

5
00:00:41.500 --> 00:00:52.000
<v Albert Fennick>One pull was stop, and three was get on with it.
"""

DAY_BOOK = """\
BRENNOW SHED: FROM THE FOREMAN'S DAY BOOK
Typed out by A. Quennerby, November 1938. I have taken the entries on the cars that somebody may ask about again, and
left out oil, coal and the horse. Each is as it stands in the book.

12 May 1931. No. 7. Hand brake stiff. Hand wheel drawn off its spindle, screw cleaned and greased, wheel put back.

3 September 1932. No. 4. Leading spring, near side, one leaf broken. Spring changed.

30 November 1932. No. 2. Chain slack, draw bolts at the end of their thread. Two links taken out.

19 February 1934. No. 11. Hand brake lever does not hold in the last notch. Pawl filed up and hardened.

14 April 1934. No. 10. Trailing axle warm at Tollan Road. Pads found dry. Washed and put back.

21 August 1935. No. 3. Floor trap found open. Driver spoken to.
"""


def axle_note(*, axle: str, where: str, measured: str, who: str, when: str, remark: str) -> str:
    """A note of measuring one journal of an axle.

    Args:
        axle: what is stamped on its end.
        where: where the axle is kept.
        measured: the diameter, as read.
        who: who measured.
        when: the day, in words.
        remark: anything else that was written down.
    """
    return f"""\
NOTE OF MEASURING: JOURNAL OF AXLE {axle}
{who}, {when}

Where the axle is: {where}
Stamped on its end: {axle}
Taken with a micrometer beside the collar, where the brass never bore. Sound there, no wear to be felt.

Diameter of the journal {measured}, give or take 0.2 mm.

{remark}
"""


AXLE_NOTES = {
    "axle-10-leading-2016": axle_note(
        axle="10 L",
        where="under a hay trailer at a farm above Pellow Halt",
        measured="69.9 mm",
        who="Miriam Haldersby",
        when="21 May 2016",
        remark="Four readings round the journal, all within the thickness of the old grease.",
    ),
    "axle-11-trailing-2020": axle_note(
        axle="11 T",
        where="in the store of the Group, with its sprocket",
        measured="70.2 mm",
        who="Tobias Wenlark",
        when="5 September 2020",
        remark="The other journal is pitted and was not measured.",
    ),
    "axle-10-trailing-2022": axle_note(
        axle="10 T",
        where="a gate weight at the quarry of Orlaby",
        measured="70.5 mm",
        who="Peder Askwold",
        when="9 April 2022",
        remark="Measured in a cold wind, with a micrometer that was lent to us. Whether it had been set is not known.",
    ),
}
