"""Every address of the program, in one place. Templates know this module as `to`."""

from webapp.pages.addresses.around_builds import *
from webapp.pages.addresses.at_the_bench import *
from webapp.pages.addresses.joined import *
from webapp.pages.addresses.mending import *
from webapp.pages.addresses.of_first_start import *
from webapp.pages.addresses.of_plumbing import *
from webapp.pages.addresses.of_sizes import *
from webapp.pages.addresses.of_tasks import *
from webapp.pages.addresses.of_the_week import *
