"""Makes sun_times.csv: sunrise and sunset in UTC at sea level by PyEphem (libastro, VSOP87).

The almanacs' definition: upper limb on the horizon, refraction 34 arcminutes, no air pressure of its own.
Run: python3 tests/published/sun_times.py > tests/published/sun_times.csv
"""

import ephem

print(f"# PyEphem {ephem.__version__}: horizon -0:34, upper limb, pressure 0; times are minutes after 0:00 UTC of the day")
print("latitude,longitude,date,sunrise,sunset")
PLACES = [(43.0, -86.0), (47.0, -96.0), (51.5, 0.0), (35.0, -80.0), (60.0, 25.0), (-43.5, 172.5), (-33.0, 18.5), (0.0, 30.0)]
DATES = ["2026/1/15", "2026/3/20", "2026/5/3", "2026/6/21", "2026/8/8", "2026/9/30", "2026/11/10", "2026/12/21"]
for latitude, longitude in PLACES:
    for date in DATES:
        place = ephem.Observer()
        place.lat, place.lon = str(latitude), str(longitude)
        place.pressure, place.horizon = 0, "-0:34"
        midnight = ephem.Date(date)
        # From the local midnight on, so that both belong to the local day.
        place.date = midnight - longitude / 360.0
        rise, down = place.next_rising(ephem.Sun()), place.next_setting(ephem.Sun())
        minutes = [(t - midnight) * 24 * 60 for t in (rise, down)]
        day = "-".join(f"{int(p):02}" for p in date.split("/"))
        print(f"{latitude},{longitude},{day},{minutes[0]:.2f},{minutes[1]:.2f}")
