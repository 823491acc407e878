"""The program's units in the words of pint."""

# Our name: the same for pint. A billion cubic micrometres, a thousand square inches and the ream have no name there.
PINT = {
    "m": "m", "mm": "mm", "µm": "um", "cm": "cm", "km": "km", "in": "inch", "ft": "foot", "mil": "0.001 * inch", "µin": "1e-6 * inch",
    "gauge": "1e-5 * inch", "yd": "yard", "pt": "inch / 72", "cm³/m²": "cm^3/m^2", "BCM/in²": "1e9 * um^3 / inch^2",
    "m²": "m^2", "cm²": "cm^2", "mm²": "mm^2", "µm²": "um^2", "in²": "inch^2", "ft²": "foot^2", "MSI": "1000 * inch^2",
    "MSF": "1000 * foot^2", "ream": "3000 * foot^2", "L": "liter", "mL": "milliliter", "cm³": "cm^3", "m³": "m^3",
    "in³": "inch^3", "ft³": "foot^3", "gal": "gallon", "qt": "quart", "fl oz": "floz", "kg": "kg", "g": "g", "mg": "mg",
    "lb": "pound", "oz": "ounce", "N": "N", "kN": "kN", "lbf": "force_pound", "ozf": "force_ounce", "kgf": "force_kilogram",
    "N/m": "N/m", "N/cm": "N/cm", "N/mm": "N/mm", "mN/m": "mN/m", "PLI": "force_pound/inch", "oz/in": "force_ounce/inch",
    "kgf/cm": "force_kilogram/cm", "J/m²": "J/m^2", "mJ/cm²": "mJ/cm^2", "J/cm²": "J/cm^2", "Pa": "Pa", "kPa": "kPa",
    "MPa": "MPa", "GPa": "GPa", "bar": "bar", "psi": "psi", "kpsi": "1000 * psi", "PLI/mil": "force_pound/inch/(0.001*inch)",
    "N·m": "N*m", "lbf·in": "force_pound*inch", "lbf·ft": "force_pound*foot", "lpi": "1/inch", "l/cm": "1/cm",
    "dpi": "1/inch", "px/cm": "1/cm", "teeth/in": "1/inch", "threads/in": "1/inch", "1/in": "1/inch", "1/mm": "1/mm",
    "1/m": "1/m", "s": "s", "ms": "ms", "min": "minute", "h": "hour", "ft/min": "foot/minute", "m/min": "m/minute",
    "m/s": "m/s", "ft/s": "foot/s", "in/s": "inch/s", "in/min": "inch/minute", "cm/s": "cm/s", "mm/s": "mm/s",
    "1/s": "1/s", "1/min": "1/minute", "1/h": "1/hour", "rpm": "1/minute", "impressions/min": "1/minute",
    "impressions/h": "1/hour", "labels/min": "1/minute", "labels/h": "1/hour", "mm²/s": "mm^2/s", "St": "stokes",
    "mPa·s": "mPa*s", "Pa·s": "Pa*s", "P": "poise", "g/cm³": "g/cm^3", "kg/m³": "kg/m^3", "lb/gal": "pound/gallon",
    "g/m²": "g/m^2", "mg/in²": "mg/inch^2", "lb/ream": "pound/(3000*foot^2)", "lb/MSF": "pound/(1000*foot^2)",
    "in²/lb": "inch^2/pound", "MSI/lb": "1000*inch^2/pound", "ft²/lb": "foot^2/pound", "m²/kg": "m^2/kg", "kg/h": "kg/hour",
    "g/min": "g/minute", "lb/h": "pound/hour", "L/min": "liter/minute", "mL/min": "milliliter/minute",
    "gal/min": "gallon/minute", "W": "W", "kW": "kW", "W/m²": "W/m^2", "mW/cm²": "mW/cm^2", "W/cm²": "W/cm^2",
    "kJ/kg": "kJ/kg", "°": "degree", "rad": "radian", "full turns": "turn", "K": "kelvin", "F°": "delta_degF", "%": "percent",
    "ppm": "ppm",
}
# Readings of a scale, which pint converts with their zero.
POINTS = {"°C": "degC", "°F": "degF"}
# Counts and names of plain numbers: there is nothing to convert. Cup seconds never convert.
PLAIN = {
    "", "points", "D", "ΔE", "pH", "teeth", "impressions", "labels", "turns", "repeats", "divisions", "parts", "sheets", "rolls",
    "px", "dots",
}
