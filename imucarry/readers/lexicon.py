"""The words of the trade that column names are made of, and how units are spelled."""

from __future__ import annotations


def _words_in(text: str) -> frozenset[str]:
    return frozenset(text.split())


ACC_WORDS = _words_in(
    """acc accel accl acceleration accelerations accelerometer accelerometers accelero
    specificforce gforce beschl beschleunigung beschleunigungen beschleunigungssensor
    accelerometre aceleracion aceleraciones acelerometro aceleracao accelerazione accelerazioni
    accelerometro versnelling versnellingen versnellingsmeter przyspieszenie akcelerometr
    accelerationer akselerasjon akselerometer kiihtyvyys kiihtyvyysanturi"""
)
GYR_WORDS = _words_in(
    """gyr gyro gyros gyroscope gyroscopes angularvelocity angularrate angvel omega
    rotationrate angvelocity rotrate turnrate angular rot rotation
    drehrate drehraten winkelgeschwindigkeit winkelgeschw gyroskop vitesseangulaire gyrometre
    velocidadangular velocidadeangular giroscopio giro velocitaangolare hoeksnelheid gyroscoop
    predkosckatowa zyroskop vinkelhastighet vinkelhastighed kulmanopeus gyroskooppi"""
)
OTHER_WORDS = _words_in(
    """mag magn magnetometer magnetic magneticfield magfield quat quaternion q euler roll
    pitch yaw temp temperature pressure baro orientation heading ori lat
    latitude lon longitude alt altitude gps battery emg ecg hr humidity light angle
    angles jerk velinc oriinc rotationvector rotvec rotvector position pos ornt jntang
    angularacceleration angaccel angacc winkelbeschleunigung winkelbeschl
    accelerationangulaire aceleracionangular aceleracaoangular accelerazioneangolare
    hoekversnelling vinkelacceleration kulmakiihtyvyys przyspieszeniekatowe magnetfeld"""
)
GRAVITY_WORDS = _words_in(
    """gravity grav schwerkraft erdbeschleunigung gravitation gravite gravedad gravidade gravita
    zwaartekracht"""
)
LETTER_KINDS = {"a": "acc", "w": "gyr", "g": "gyr", "m": "other"}
FREE_OF_GRAVITY = _words_in(
    """linear lin linacc linearacceleration useracceleration user lineare lineaire lineal
    lineair free freeacc dyn dynamic nograv nogravity"""
)
# Of columns that go beside a sensor's samples and are none.
ASIDE_WORDS = _words_in("bias biases offset offsets drift uncalibrated uncal noise variance std sd")
TOTAL_WORDS = _words_in("total including")
TIME_WORDS = _words_in(
    """t time times timestamp timestamps ts epoch unix unixtime datetime elapsed clock utc
    sampletime seconds millis micros nanos latency date
    zeit zeitstempel uhrzeit temps horodatage tiempo tempo tijd tijdstempel czas tid tidsstempel
    aika ora hora datenum serialdate datum fecha zeitpunkt messzeit laufzeit aufnahmezeit systemzeit
    heure heures pvm horario stamp"""
)
# Beside a time: which clock it is, or how it is written. They name no sensor.
CLOCK_WORDS = _words_in(
    """host device sensor recording system local utc gmt global unix epoch phone server gps rtc
    absolute relative elapsed since start from begin beginning first zero boot hh h mm m ss sss ms
    us ns iso iso8601 date day of and with in formatted text human readable node"""
)
COUNTER_WORDS = _words_in(
    """counter packetcounter packet packets sample samples index count seq sequence n frame
    idx sampleno sampleid packetno packetid samplecounter row id"""
)
SENSOR_WORDS = _words_in(
    """sensor sensors device deviceid sensorid sensorname placement place location body
    segment node site"""
)
TYPE_WORDS = _words_in("type kind stream channel modality measure sensortype")
NEUTRAL_WORDS = _words_in(
    """imu data raw signal axis rate velocity speed vel value values val of in component
    sensor the body cal calibrated"""
)
CHEST_WORDS = _words_in("chest sternum thorax torso brust brustbein brustkorb")
WRIST_WORDS = _words_in("wrist forearm lowerarm watch hand handgelenk unterarm")
LEFT_WORDS = _words_in("left l links linke linkes linker")
RIGHT_WORDS = _words_in("right r rechts rechte rechtes rechter")
PLACEMENT_SHORT = {
    "lw": "left_wrist",
    "rw": "right_wrist",
    "lwrist": "left_wrist",
    "rwrist": "right_wrist",
    "leftwrist": "left_wrist",
    "rightwrist": "right_wrist",
    "wristleft": "left_wrist",
    "wristright": "right_wrist",
    "leftforearm": "left_wrist",
    "rightforearm": "right_wrist",
}
AXES = ("x", "y", "z")
AXIS_NUMBERS = ("1", "2", "3")

ACC_UNITS = {
    "m/s^2": "ms2 mss mps2 mpss msec2 msecsec meterspersecondsquared metrespersecondsquared"
    " meters2 metres2 meterpersecond2 metersecond2 mpersec2 ms22",
    "g": "g gs gn g0 gee gees gunits",
    "mg": "mg mgs millig mgn milligs",
}
GYR_UNITS = {
    "deg/s": "degs dps degps degsec degss degreess degreesec degreessec degreessecond"
    " degreesecond degreespersecond degreepersecond degpersec degpers s degsecond",
    "rad/s": "rads radps radsec radianss radianssec radianssecond radianspersecond radpersec"
    " radpers radss",
    "mdeg/s": "mdps mdegs mdegps millidps millidegs",
    "mrad/s": "mrads mradps millirads",
}
# Units that a header may name and that are not read: their words, letters and digits alone.
STRANGE_UNITS = _words_in(
    """rpm rps rpmin cps hz khz 1min 1s umin upm revmin revs revsec revpermin revpersec rotmin
    rotations turns degmin degh degperh degperhour degphr dph radmin ft2 fts2 ftsec2 ftps2 fps2
    ins2 cms2 cmps2 cmsec2 mms2 mmps2 mmsec2 kms2 dms2 gal mgal ug kg lsb lsbs count counts adc
    digit digits bit bits tick ticks int16 v mv volt volts nm"""
)
TIME_UNITS = {
    "s": "s sec secs second seconds sekunde sekunden seconde secondes segundo segundos secondo"
    " secondi seconden sekunder",
    "ms": "ms msec msecs millis millisec millisecs millisecond milliseconds milli millisekunden"
    " millisecondes milisegundos millisecondi",
    "us": "us usec usecs micros microsec microsecs microsecond microseconds micro mikrosekunden",
    "ns": "ns nsec nsecs nanos nanosec nanosecs nanosecond nanoseconds nano nanosekunden",
    "min": "min mins minute minutes",
}
SPELLINGS = {
    quantity: {word: unit for unit, words in units.items() for word in words.split()}
    for quantity, units in (("acc", ACC_UNITS), ("gyr", GYR_UNITS), ("time", TIME_UNITS))
}
del SPELLINGS["gyr"]["s"]  # "s" alone is a time
