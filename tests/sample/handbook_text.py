"""The words of the maker's handbook, second issue, October 1933."""

from sample.setting import Block

_H = "heading"


def _title(text: str, size: float) -> Block:
    return Block(kind="title", text=text, size=size)


def _text(text: str) -> Block:
    return Block(kind="text", text=text)


def _side(head: str, text: str) -> Block:
    return Block(kind="side", text=f"{head}|{text}")


def _gap(lines: float) -> Block:
    return Block(kind="gap", size=lines)


def _small(text: str) -> Block:
    return Block(kind="small", text=text)


def _heading(text: str) -> Block:
    return Block(kind="heading", text=text)


def _rows(*rows: str) -> list[Block]:
    return [Block(kind="row", text=row) for row in rows]


_RULE = Block(kind="rule")

PAGES: tuple[tuple[Block, ...], ...] = (
    (
        _gap(3),
        _title("BRENNOW & CARROWSEA", 17),
        _title("LIGHT RAILWAY", 17),
        _gap(2),
        _RULE,
        _gap(1),
        _title("PETROL RAIL CARS", 22),
        _small("CLASS P, Nos. 1 to 11"),
        _gap(3),
        _heading("WORKING INSTRUCTIONS"),
        _small("AND"),
        _heading("LIST OF PARTS"),
        _gap(4),
        _small("SECOND ISSUE, OCTOBER 1933"),
        _small("This issue replaces that of March 1928."),
        _gap(4),
        _heading("ORRINSHAW & TEBB LTD."),
        _small("Lindle Works, Stoverton"),
        _small("For the use of the Company's servants only."),
    ),
    (
        _heading("NOTICE"),
        _text(
            "This book is to be carried on the car. Drivers and fitters are to make themselves familiar with every "
            "part of it and are to "
            "hand it back upon leaving the service."
        ),
        _text(
            "Where the cars differ from one another the numbers of the cars are stated. Where no number is stated "
            "the instruction applies "
            "to Cars Nos. 1 to 11 alike."
        ),
        _text(
            "When ordering parts, quote the number of the part, the number of the car, and the number required. "
            "Telegraphic orders are to be "
            "confirmed by letter the same day."
        ),
        _gap(1),
        _heading("CONTENTS"),
        *_rows(
            "Page 3|The cars in general",
            "Page 4|Leading dimensions",
            "Page 5|Head lamps and wiring",
            "Page 6|Starting and driving",
            "Page 7|Couplings",
            "Page 8|Radiator, axleboxes, oiling",
            "Page 9|Plate I. Oiling diagram",
            "Page 10|List of parts, body and lamps",
            "Page 11|List of parts, underframe",
            "Page 12|Exhaust and heating",
        ),
        _gap(1),
        _text("Corrections will be issued as slips, which are to be gummed in at the page to which they refer."),
    ),
    (
        _heading("THE CARS IN GENERAL"),
        _text(
            "The cars are carried upon four wheels and are driven from the leading end only. The engine is placed "
            "below the floor and drives "
            "the trailing axle through a three-speed gear box and a roller chain."
        ),
        _side(
            "First series.",
            "Cars Nos. 1 to 4 were delivered in 1927 and 1928. The seats are slatted benches of ash, and the cars "
            "are lit by acetylene.",
        ),
        _side(
            "Second series.",
            "Cars Nos. 5 to 8 were delivered in 1930. They differ from the first in the springs, the radiator and "
            "the axleboxes. "
            "The seats are slatted benches of ash as in the first series.",
        ),
        _side(
            "Third series.",
            "Cars Nos. 9 to 11 were delivered in the summer of 1933. They are wired throughout for electric light, "
            "and the roof "
            "ventilators are of the torpedo pattern, four to each car.",
        ),
        _text(
            "The number of the car is painted on both sides and is cast on the maker's plate, which is fixed inside "
            "the leading end above the "
            "driver's window. No car is to run with the plate removed."
        ),
        _text(
            "The weight of a car in working order is 6 tons 11 cwt. for the first and second series and 6 tons 15½ "
            "cwt. for the third."
        ),
    ),
    (
        _heading("LEADING DIMENSIONS"),
        *_rows(
            "Gauge of rails||2 ft. 6 in.",
            "Length over headstocks||24 ft. 3 in.",
            "Width over side panels||6 ft. 2½ in.",
            "Height, rail to crown of roof||8 ft. 6 in.",
            "Wheel base||12 ft. 0 in.",
            "Diameter of wheels on tread||2 ft. 0 in.",
            "Height of coupling above rail||1 ft. 9 in.",
            "Width of gangway||1 ft. 7¼ in.",
            "Pitch of seats||3 ft. 0⅝ in.",
            "Seats, passengers||24",
        ),
        _gap(1),
        _text(
            "All heights are taken from the top of the rail with the car empty, the tank full and the tyres new. As "
            "the tyres wear the "
            "heights fall by as much as ¾ in., and the packing pieces U-311 are then to be fitted below the springs."
        ),
        _gap(0.8),
        _heading("BORE AND STROKE"),
        *_rows(
            "Bore of cylinders||4⅛ in.", "Stroke of pistons||5½ in.", "Cylinders||4", "Governed speed||1,250 r.p.m."
        ),
        _gap(1),
        _text(
            "The engine is not to be run above the governed speed when the car is descending the bank between Pellow "
            "Halt and Carrowsea."
        ),
    ),
    (
        _heading("HEAD LAMPS AND WIRING"),
        _side(
            "Cars Nos. 1 to 8.",
            "These cars have acetylene head lamps, H-201, each with its own generator below the lamp. The generator "
            "is to be "
            "charged with carbide to the line and no higher. Spent carbide is to be buried and not thrown upon the "
            "ballast.",
        ),
        _side(
            "Cars Nos. 9 to 11.",
            "These cars have electric head lamps, H-204, of 12 volts. The wires are drawn through a steel conduit "
            "which runs "
            "along the cantrail on both sides and down the corner pillar to the lamp.",
        ),
        _text(
            "The lamps are dipped by the switch on the driver's left hand. Both lamps burn at half light when "
            "dipped. A bulb that has blackened "
            "is to be changed, H-206, and not turned round."
        ),
        _side(
            "The dynamo.",
            "The dynamo begins to charge at 480 r.p.m. of the engine and gives 11 amperes at full speed. If the "
            "needle does not "
            "leave the pin at that speed the belt is slack or the brushes, H-219, are worn below ⅜ in.",
        ),
        _side(
            "The battery.",
            "The cells are to be topped up with distilled water every Saturday. The plates are never to be left dry.",
        ),
    ),
    (
        _heading("STARTING AND DRIVING"),
        _text(
            "Before starting see that the hand brake is hard on, the gear lever in the middle notch, the petrol on, "
            "and the oil in the sump "
            "between the marks. Flood the carburettor only when the engine is cold."
        ),
        _text(
            "Turn the engine twice by hand with the switch off. Then switch on, retard the spark, and pull up "
            "smartly. On no account push "
            "down on the handle. When the engine fires advance the spark by three notches."
        ),
        _text(
            "Let the clutch in gently and allow the car to gain 4 miles an hour before changing up. The second speed "
            "is to be used on all "
            "gradients of 1 in 40 or steeper, and always between mile post 7 and mile post 8½."
        ),
        _text(
            "Give warning at every whistle board and before moving off. Bring the car to a stand with the foot brake "
            "and hold it with "
            "the hand brake. The sprag is to be put down whenever the driver leaves the car upon a gradient."
        ),
        _text(
            "At the end of the day drain the radiator if the glass at Brennow shed stands below 36 degrees, and "
            "chalk the tap open."
        ),
    ),
    (
        _heading("COUPLINGS"),
        _text(
            "Both ends of the car carry link and pin couplings of the Company's standard. The pin, U-330, is secured "
            "to the headstock by a chain "
            "so that it cannot be lost, and is to be greased once a month."
        ),
        _text(
            "The height of the coupling is 1 ft. 9 in. above the rail. A car with new tyres may stand ½ in. higher. "
            "Couplings more than 1¼ in. "
            "out of line with one another are not to be coupled."
        ),
        _side(
            "To couple up.",
            "Bring the car within a foot of the vehicle and stop. The guard is to lift the link with the hook "
            "provided, never with "
            "the hand, and drop the pin when the driver closes up. He is to stand clear on the platform side.",
        ),
        _side(
            "Trailing load.",
            "One four-wheeled van, or two wagons not above 3 tons each, may be drawn on the level. No passengers are "
            "to be "
            "carried in a vehicle that is drawn by a car unless it has a continuous brake.",
        ),
        _text("The links are to be tested at the works each year to 4½ tons and stamped with the date."),
    ),
    (
        _heading("RADIATOR, AXLEBOXES, OILING"),
        _text(
            "The radiator holds 5½ gallons. It is to be filled with rain water from the butt and strained through "
            "muslin. The cap is never "
            "to be taken off while the engine is hot."
        ),
        _text(
            "The axleboxes are the same for Cars Nos. 5 to 11 and may be exchanged between them. They have hinged "
            "lids, U-317, "
            "which are to be wiped before they are raised. The boxes of Cars Nos. 1 to 4 are of another pattern and "
            "will not fit."
        ),
        _text(
            "Fill each box to the lip with axle oil every second day. Draw the pad, U-318, once a month, wash it in "
            "paraffin, and let it "
            "drain over night. A box that runs hot is to be reported and the car taken off at the next passing place."
        ),
        _text(
            "The roller chain is to be brushed with graphite grease each Monday. Its slack, measured half way, is to "
            "be between ¾ in. and "
            "1⅛ in., and is taken up by the draw bolts U-342, a quarter turn on each side alternately."
        ),
        _text("Oiling points are numbered on Plate I., and are to be gone round in the order of the numbers."),
    ),
    (_small("Plate I."),),
    (
        _heading("LIST OF PARTS"),
        _small("BODY AND LAMPS"),
        _gap(0.5),
        *_rows(
            "No.|Description, and number off",
            "H-201|Head lamp, acetylene, Nos. 1 to 8, 2",
            "H-202|Generator for same, 2",
            "H-204|Head lamp, electric, Nos. 9 to 11, 2",
            "H-205|Bracket for same, 2",
            "H-206|Bulb, 12 volt 24 watt, 2",
            "H-211|Tail lamp, 2",
            "H-219|Brush for dynamo, 2",
            "H-224|Conduit, steel, ¾ in., 2",
            "H-225|Clip for conduit, 32",
            "H-230|Ventilator, cowl, Nos. 1 to 8, 4",
            "H-231|Ventilator, torpedo, Nos. 9 to 11, 4",
            "H-240|Glass, side window, 12",
            "H-241|Glass, end window, 6",
            "H-242|Strap for window, 12",
            "H-250|Lock for door, left hand, 1",
            "H-251|Lock for door, right hand, 1",
            "H-263|Slat for seat, ash, 2¼ in., 120",
            "H-264|Standard for seat, 24",
            "H-270|Roof board, Nos. 1 to 8, 2",
        ),
        _gap(1),
        _small("Glass is charged at cost."),
        _small("All other parts are at list price less 12½ per cent."),
    ),
    (
        _heading("LIST OF PARTS"),
        _small("UNDERFRAME"),
        _gap(0.5),
        *_rows(
            "No.|Description, and number off",
            "U-301|Axle, leading, 1",
            "U-302|Axle, trailing, with sprocket, 1",
            "U-308|Tyre, 2 ft. 0 in., 4",
            "U-311|Packing piece, ¼ in., 8",
            "U-312|Packing piece, ½ in., 8",
            "U-315|Spring, seven leaves, 4",
            "U-316|Axlebox, Nos. 5 to 11, 4",
            "U-317|Lid for same, hinged, 4",
            "U-318|Pad for same, 4",
            "U-330|Pin for coupling, 1⅜ in., 2",
            "U-331|Link for coupling, 2",
            "U-332|Chain for pin, 2",
            "U-342|Draw bolt, ⅝ in., 4",
            "U-350|Brake block, cast iron, 4",
            "U-351|Brake rod, 7 ft. 4¼ in., 2",
            "U-360|Sprag, 1",
            "U-371|Exhaust box, 1",
            "U-372|Lagging for same, asbestos cord, 1",
            "U-380|Tank for petrol, 1",
        ),
        _gap(1),
        _small("Tyres are supplied in sets of four only."),
    ),
    (
        _heading("EXHAUST AND HEATING"),
        _text(
            "The exhaust is carried below the floor to the trailing end. The exhaust box, U-371, is lagged with "
            "asbestos cord, wound close and "
            "finished with two coats of silicate paint. Where the cord has frayed the floor above will scorch, and "
            "the car is to be stopped "
            "until it has been wound afresh."
        ),
        _text(
            "In winter the saloon is warmed by turning the flap, which sends part of the exhaust through the pipes "
            "beneath the seats. The "
            "flap is to be shut before the engine is started and opened when it is warm."
        ),
        _text(
            "The joints are to be tried every week with a taper. A joint that blows is to be made at once; fumes in "
            "the saloon are to "
            "be reported to the Superintendent the same day."
        ),
        _gap(1),
        _heading("CLEANING"),
        _text(
            "Panels are to be washed with cold water from the top downwards and dried with a leather. Soda is not to "
            "be used. The roof is to "
            "be painted once a year."
        ),
        _gap(2),
        _RULE,
        _small("Printed at Stoverton for Orrinshaw & Tebb Ltd."),
        _small("300. 10-33."),
    ),
)
