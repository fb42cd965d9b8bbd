"""Passages of our own invention about the running of railcars, long enough to be known again."""

OILING = (
    "Before the car leaves the shed the driver fills the lubricater on the near side of the engine with clean oil, "
    "wipes its glass with a dry cloth, and sees that the drops fall no faster than one in four seconds with the "
    "engine idling. "
    "Should the glass stay dark he changes the wick, which is kept in the left hand locker behind his seat."
)
BRAKES = (
    "On Saturdays a fitter goes beneath the rear bogie and measures the wear of each brake block at the thickest part. "
    "Those that have lost more than half are renewed in pairs, whatever the state of their fellows, since a new block "
    "beside an old one takes all the load and is worn through within the month."
)
HEATING = (
    "In winter the saloon is warmed from the exhaust through a jacketed pipe under the seats, whose valve stands full "
    "open from November until Easter. Passengers who complain of fumes are to be moved forward, and the joint nearest "
    "to the door is to be tried with soapy water as soon as the car has come home."
)
FARES = (
    "Single tickets of the third class were sold by the guard from a rack slung at his neck; market people paid "
    "twopence for a basket and a penny for every hen. Takings were counted at the terminus under the eyes of the "
    "stationmaster, who entered them in red where they fell short of the number of tickets punched."
)
OTHERS = (BRAKES, HEATING, FARES)
_GREEK = (
    "Σωληνώσεις θερμάνσεως και βαλβίδες ελέγχονται κάθε φθινόπωρο πριν από την πρώτη παγωνιά, και το λάδι "
    "αλλάζεται όταν ανοίγει το αμαξοστάσιο μετά τις γιορτές του χειμώνα και φεύγει το πρώτο όχημα προς τα βουνά."
)
_CYRILLIC = (
    "Перед выездом из сарая водитель наливает чистое масло, протирает стекло сухой тряпкой и смотрит, чтобы капли "
    "падали не чаще одной в четыре секунды; если стекло остаётся тёмным, он меняет фитиль из левого ящика."
)
_ARABIC = (
    "قبل أن تغادر العربة المخزن يملأ السائق المزيتة بزيت نظيف ويمسح زجاجها بقطعة قماش جافة ثم يراقب سقوط القطرات "
    "من مقعده، فإذا بقي الزجاج معتما غيّر الفتيل المحفوظ في الصندوق الأيسر خلف المقعد قبل أن يبدأ الرحلة التالية."
)
SCRIPTS = {"greek": _GREEK, "cyrillic": _CYRILLIC, "arabic": _ARABIC}
