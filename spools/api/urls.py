"""The addresses of the API."""

from django.urls import path

from spools.api.events import StepNew, UndoNew
from spools.api.fits import FitNew
from spools.api.jig_checks import JigCheckNew
from spools.api.obstacles import ObstacleNew
from spools.api.photos import PhotoNew
from spools.api.readings import ReadingList, ReadingNew
from spools.api.readings_batch import ReadingBatch
from spools.api.spools import LoadList, SpoolList, SpoolOne, TieInList

urlpatterns = [
    path("readings/", ReadingList.as_view(), name="readings"),
    path("readings/new/", ReadingNew.as_view(), name="reading-new"),
    path("readings/batch/", ReadingBatch.as_view(), name="reading-batch"),
    path("photos/new/", PhotoNew.as_view(), name="photo-new"),
    path("obstacles/new/", ObstacleNew.as_view(), name="obstacle-new"),
    path("fits/new/", FitNew.as_view(), name="fit-new"),
    path("jig-checks/new/", JigCheckNew.as_view(), name="jig-check-new"),
    path("spools/", SpoolList.as_view(), name="spools"),
    path("spools/<int:spool_id>/", SpoolOne.as_view(), name="spool"),
    path("spools/<int:spool_id>/steps/", StepNew.as_view(), name="step"),
    path("spools/<int:spool_id>/undo/", UndoNew.as_view(), name="undo"),
    path("tie-ins/", TieInList.as_view(), name="tie-ins"),
    path("loads/", LoadList.as_view(), name="loads"),
]
