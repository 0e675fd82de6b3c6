suppressMessages({library(MASS);library(ordinal);library(survival)})
p<-read.csv("plants.csv");k<-read.csv("cuts.csv")
first<-as.integer(substr(p$planted,1,4))+1
seas<-do.call(rbind,lapply(seq_len(nrow(p)),function(i) data.frame(plant=p$plant[i],year=first[i]:2025,age=seq_along(first[i]:2025))))
tot<-aggregate(stems~plant+year,data=transform(k,year=as.integer(substr(date,1,4))),sum)
s<-merge(seas,tot,all.x=TRUE);s$stems[is.na(s$stems)]<-0
ll<-0
for(a in sort(unique(s$age))){m<-glm.nb(stems~1,data=s[s$age==a,],control=glm.control(epsilon=1e-12,maxit=200));cat("age",a,nrow(s[s$age==a,]),sprintf("%.10f %.10f",exp(coef(m)),m$theta),"se",sprintf("%.10f",summary(m)$coef[1,2]),"\n");ll<-ll+as.numeric(logLik(m))}
cat("stems loglik",sprintf("%.8f",ll),"\n")
k$grade<-factor(k$grade,levels=c("out","second","first","extra"),ordered=TRUE);k$age<-factor(k$age);k$flush<-factor(k$flush,levels=c("spring","fall"));k$plant<-factor(k$plant)
m<-clmm(grade~age+flush+(1|plant),weights=stems,data=k,nAGQ=25,control=clmm.control(gradTol=1e-8))
print(summary(m)$coefficients,digits=10);cat("loglik",sprintf("%.8f",m$logLik),"sd",sprintf("%.8f",as.numeric(m$ST[[1]])),"\n")
l<-survreg(Surv(length_cm,length_cm+10,type="interval2")~age+flush,weights=stems,data=k,dist="gaussian",control=survreg.control(rel.tolerance=1e-12))
print(coef(l),digits=12);cat("scale",sprintf("%.10f",l$scale),"loglik",sprintf("%.8f",l$loglik[2]),"\n")
